/** Under which kind of document a tablet notes the backup that it made last. */
export const LAST_BACKUP = 'last-backup';
