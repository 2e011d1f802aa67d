/** Addresses of the pages of the desk that other pages lead to. */
export const OTHER_CLINICS = '/lead/other-clinics';
export const OWN_TIMES = '/lead/own-times';
