/** A dwell with a limit below this is over before anybody would notice: its start is pressed for itself. In ms. */
export const SHORT_LIMIT_MS = 60_000;
