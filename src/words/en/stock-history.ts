/** Who did what to a box, and who does it now. */

interface Done {
  /** Empty where nobody was named. */
  readonly by: string;
  readonly when: string;
  readonly where: string;
}

export const stockHistory = {
  title: 'What was done to it',
  done: ({ by, when, where }: Done): string =>
    [when, by === '' ? 'nobody named' : by, where].join(', '),
  here: 'this tablet',
  there: (tablet: string): string =>
    tablet === '' ? 'an unknown tablet' : `tablet ${tablet.slice(0, 8)}`,
  deeds: {
    was: 'As it stood before its history was kept',
    received: 'Received',
    demo: 'Invented, for the demonstration',
    corrected: (fields: readonly string[]): string => `Changed. ${fields.join(' ')}`,
    opened: (day: string): string => `Opened on ${day}`,
    notOpened: 'Set to not opened',
    'taken-out': 'Taken out of the refrigerator',
    notTakenOut: 'Set to not taken out',
    recalled: 'Marked as recalled',
    recalledWhy: (reason: string): string => `Marked as recalled: ${reason}`,
    'recall-lifted': 'Recall mark removed',
    liftedWhy: (reason: string): string => `Recall mark removed: ${reason}`,
    'used-up': 'Used up or discarded',
    'back-on-shelf': 'Back on the shelf',
    struck: 'Removed as entered by mistake',
  },
  field: (o: { readonly field: string; readonly value: string }): string =>
    `${o.field}: ${o.value}.`,
  who: 'Who is doing this',
  whoHint: 'Goes into the history of the box. Asked again after 15 minutes.',
  whoNobody: 'Not said',
  whoOther: 'Somebody else',
  whoName: 'Name',
};
