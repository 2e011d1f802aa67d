/**
 * How much is read from outside at most. Lengths are in UTF-16 code units, as the engine counts
 * text. Each is many times what this app writes, and little enough for a tablet to hold.
 */

/** A protocol, a case, a script, a file of another clinic; a protocol has some 60,000. */
export const TEXT_LENGTH_MAX = 2_000_000;
/** One journal; a case of 2,000 entries has about a million. */
export const JOURNAL_LENGTH_MAX = 100_000_000;
/** A file of many journals; engines hold no text much longer than this. */
export const JOURNALS_LENGTH_MAX = 500_000_000;
/** A line of a backup; the longest that is written is a whole case that was set apart. */
export const BACKUP_LINE_LENGTH_MAX = 32_000_000;
/** Entries of one case in a backup or a journal; a long appointment has some 700. */
export const CASE_ENTRIES_MAX = 50_000;
/** Facts of one item in a backup; a bottle that is taken out every day for a year has some 400. */
export const ITEM_FACTS_MAX = 5_000;
/** Facts that one fact follows; as many as there are tablets that did not know of each other. */
export const FACT_AFTER_MAX = 100;
/** Brackets inside each other; a journal, which holds protocols and plans, has some 15. */
export const NESTING_MAX = 100;
/** Rounds of key derivation that the head of a backup may ask for; this app asks for 600,000. */
export const KEY_ITERATIONS_MAX = 2_000_000;
/** The text of a label, scanned or typed; a GS1 element string has at most 90. */
export const LABEL_LENGTH_MAX = 500;
/** Bytes of one message of the clinic's store, as its server takes them; that of a long protocol has some 15,000. */
export const MESSAGE_BYTES_MAX = 200_000;
/** Bytes of what such a message says, before it is packed; a long protocol has some 90,000. */
export const PLAIN_BYTES_MAX = 4_000_000;
/** Tablets that a clinic ever had, those put out among them. */
export const TABLETS_MAX = 500;
/** Versions of the clinic's secret: one for each tablet that was put out. */
export const SECRETS_MAX = 500;
/** The name of a tablet, the reason of a put-out. */
export const NAME_LENGTH_MAX = 200;
