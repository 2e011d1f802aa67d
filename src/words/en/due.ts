/** Words for what must be out of the refrigerator, and by when. Lengths of time come as text. */
import { listIn } from '../grammar.ts';

const list = listIn('en-GB');

export const due = {
  title: 'Due and overdue',
  /** `at` is "today 08:00", as it stands in a line. */
  outBy: (o: { readonly materials: readonly string[]; readonly at: string }): string =>
    `${list(o.materials)} out by ${o.at}`,
  isOut: (material: string): string => `${material} is out`,
  appointment: (at: string): string => `Appointment ${at}`,
  holdUntil: (at: string): string => `Leave the contacts closed until ${at}`,
  lateUnderAMinute: 'Overdue by less than a minute',
  late: (time: string): string => `Overdue by ${time}`,
  leftUnderAMinute: 'Less than a minute left',
  left: (time: string): string => `${time} left`,
  past: (time: string): string => `${time} ago`,
  outFor: (o: { readonly time: string; readonly floor: string }): string =>
    `Out for ${o.time}, needs ${o.floor}`,
  calendar: 'Calendar',
  calendarName: (title: string): string => `Calendar of ${title}`,
  calendarShared: 'Shared as a calendar file.',
  calendarSaved: 'Saved as a calendar file.',
  calendarNone: 'Set a date first.',
};
