/** What a case was begun on although somebody should have answered it first. */
/** What a new template corrects in the revision of a case, and the clinic lead had not answered. */
export interface Unanswered {
  /** Hash of the template. */
  readonly template: string;
  /** Only what could hurt: the place of each, the entry it stands in, and the reason told with it. */
  readonly corrections: readonly {
    readonly place: string;
    readonly title: string;
    readonly reason: string;
  }[];
}
