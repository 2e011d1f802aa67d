/** The same chart reference in another writing: `P 3`, `p-3` and `P3` are one patient. Pure. */

/** What two writings of one chart reference have in common; never shown. */
export function patientKey(reference: string): string {
  const key = reference
    .normalize('NFKC')
    .toUpperCase()
    .replace(/[\s\p{Pd}.]/gu, '');
  return key === '' ? reference : key;
}
