/** Words of the revisions of a protocol: read, compared, exported, and the start of a new one. */

interface Named {
  readonly revision: number;
  readonly hash: string;
}

export const history = {
  title: (protocol: string): string => `History of ${protocol}`,
  lede: 'Every revision on this tablet, and the template. Those with the same number are told apart by their hash.',
  link: 'History',
  linkName: (protocol: string): string => `History of ${protocol}`,
  gone: 'This revision is not on this tablet.',
  back: 'All revisions',
  revisions: 'Revisions',
  revision: ({ revision, hash }: Named): string => `Revision ${revision}, ${hash}`,
  template: ({ revision, hash }: Named): string => `Template, revision ${revision}, ${hash}`,
  name: 'Revision and hash',
  isTemplate: 'Template, as it ships',
  isTemplateInUse: 'Template, as it ships. Rehearsals use it',
  elsewhere: (o: { readonly by: string; readonly on: string }): string =>
    `Confirmed on another tablet by ${o.by}, ${o.on}; not at this desk`,
  unconfirmed: 'Not confirmed',
  newerInUse: 'Not retired. A newer revision is in use',
  wholeHash: (hash: string): string => `Hash (SHA-256): ${hash}`,
  read: 'Read',
  readName: (what: string): string => `Read ${what}`,
  compare: 'Compare',
  compareName: (what: string): string => `Compare ${what}`,
  exportDo: 'Export',
  exportName: (what: string): string => `Export ${what} as a file`,
  begin: 'Begin a draft from it',
  beginName: (what: string): string => `Begin a draft from ${what}`,
  beginLede:
    'The draft holds what this revision held, with its bases. Once it is confirmed it gets the next number.',
  bringBackName: (what: string): string => `Put ${what} back in force`,
  compareTitle: (o: { readonly before: string; readonly after: string }): string =>
    `${o.before} and ${o.after}`,
  with: 'Compare with',
  inForce: (what: string): string => `${what}, in use now`,
  same: 'They differ in nothing but the number.',
  nothingElse: 'Nothing else of this protocol is on this tablet.',
  swap: 'The other way round',
};
