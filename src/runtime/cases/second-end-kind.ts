/** Kind of the documents of second ends; one of each, under its case and the hash of its first entry. */
export const SECOND_END = 'second-end';
