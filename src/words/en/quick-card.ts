/** Words of the card that hangs beside the tablet: one sheet, read in a minute. */
import type { SoundKind } from '../codes.ts';
import { listIn } from '../grammar.ts';

const list = listIn('en-GB');

export const quickCard = {
  title: 'Quick card',
  back: 'Clinic',
  print: 'Print, or save as PDF',
  open: 'Quick card and keys',
  bar: 'The bar',
  barLines: [
    'The wide bar says in words what a press records. Read it, do it, press it.',
    'Press when it happens: gel on, water on. On a list, untick what was not done.',
    'A light pass is led by tones. Press to stop it; after it, untick what was not lit, and confirm.',
    'Early, late, too short, too long: it is recorded as it was. Nothing is blocked, nothing presses itself.',
    'Undo, at the end of the bar, takes back the last press, for ten seconds.',
    '“5 s ago” moves the last press back by five seconds. Press again for ten.',
    'More: went wrong, other steps, note, bead, materials, wipe the screen, leave the chair.',
    'Leaving the chair stops no clock. Go on from Today.',
  ],
  gauge: 'The gauge',
  gaugeLines: [
    'It fills. Notch: minimum. Line: target. Rim: limit. Hatched over the rim: over, counting up.',
    'Dotted band: the tablet slept, so the time is between two figures. It says why.',
  ],
  keys: 'Keys and pedal',
  keyHead: 'Key',
  doesHead: 'What it does',
  keyRows: [
    { keys: 'Space, Enter, Page Down, a pedal', does: 'Presses the bar' },
    { keys: 'Backspace, Page Up', does: 'Takes back the last press, for ten seconds' },
    { keys: 'Escape', does: 'Marks the last alert as seen' },
  ],
  taught: (keys: readonly string[]): string =>
    `Taught on this tablet to press the bar: ${list(keys)}.`,
  keyNote: 'A held or bouncing key counts once. No key does more. A pedal sends one of these keys.',
  sounds: 'Sounds',
  soundHead: 'Sound',
  meaningHead: 'It means',
  soundRows: {
    nearing: { sound: 'One soft tone', meaning: 'Due in five seconds' },
    now: { sound: 'Two tones, rising', meaning: 'Now: do what the bar says' },
    refused: { sound: 'Two short tones, falling', meaning: 'The press was not recorded: read why' },
    over: { sound: 'Three quick tones, falling', meaning: 'Past its limit' },
    'window-closing': { sound: 'Three slow tones, rising', meaning: 'A window closes soon' },
    'window-broken': {
      sound: 'Five quick tones, and five more',
      meaning: 'A window is past its limit',
    },
    'tablet-fault': {
      sound: 'Three long tones, down and up',
      meaning: 'Something is wrong with the tablet',
    },
  } satisfies Record<SoundKind, { readonly sound: string; readonly meaning: string }>,
  soundNote:
    'One at a time, the most serious first. Each stays on the screen in words until it is seen.',
  fails: 'When the tablet fails',
  failLines: [
    'Keep an independent timer on the tray. Start it with the first gel.',
    'Screen dark or frozen: go on by the timer. Open the app again and press Go on: the case is there, and every clock shows the time it may have been.',
    'SOUND OFF in red: touch the screen once. Still red: watch the screen.',
    'SCREEN MAY SLEEP in red: touch the screen now and then.',
    'NOT SAVED in red: write the times down and leave the app open.',
    'Battery empty: go on by the timer and write the times down. Add them as a note afterwards.',
  ],
  cautions: 'Cautions',
  version: (version: string): string => `Lutewatch ${version}`,
  clinicAndVersion: (o: { readonly version: string; readonly clinic: string }): string =>
    `${o.clinic}, Lutewatch ${o.version}`,
};
