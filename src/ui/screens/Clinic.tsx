/** Written next. */
export function Clinic() {
  return <main />;
}
