/** Addresses of the pages of the desk that other pages lead to. */
export const OTHER_CLINICS = '/lead/other-clinics';
export const OWN_TIMES = '/lead/own-times';
export const SHEETS = '/lead/sheets';

export const sheetPlace = (id: string, view: 'read' | 'changes' | null = null): string =>
  view === null ? `${SHEETS}/${id}` : `${SHEETS}/${id}/${view}`;
/** Every revision of a protocol: `/lead/history/ID`, one of them, and one beside another. */
const HISTORY = '/lead/history';
export const historyOf = (protocolId: string, ...hashes: readonly string[]): string =>
  [HISTORY, protocolId, ...hashes]
    .map((part, i) => (i === 0 ? part : encodeURIComponent(part)))
    .join('/');
