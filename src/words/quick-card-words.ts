/** Words of the card that hangs beside the tablet: one sheet, read in a minute. */
import type { SoundKind } from './codes.ts';

export const quickCardWords = {
  title: 'Quick card',
  back: 'Clinic',
  print: 'Print, or keep as PDF',
  open: 'Quick card and keys',
  bar: 'The bar',
  barLines: [
    'The wide bar says in words what a press records. Read it, do it, press it.',
    'Press when it happens: gel on, water on, light on, light off.',
    'Early, late, too short, too long: it is recorded as it was. Nothing is blocked, nothing presses by itself.',
    'Undo, at the end of the bar: the last press is taken back, for ten seconds.',
    '“5 s ago”: the last press was five seconds earlier. Press again for ten.',
    'More: went wrong, other steps, note, bead, materials, wipe the screen, leave the chair.',
    'Leaving the chair stops no clock. Go on from Today.',
  ],
  gauge: 'The gauge',
  gaugeLines: [
    'A vessel that fills. Notch: minimum. Line: target. Rim: limit. Hatched over the rim: over, counting up.',
    'Dotted band: the tablet slept, so the time is between two figures. It says why.',
  ],
  keys: 'Keys and pedal',
  keyHead: 'Key',
  doesHead: 'What it does',
  keyRows: [
    { keys: 'Space, Enter, Page Down, a pedal', does: 'Presses the bar' },
    { keys: 'Backspace, Page Up', does: 'Takes the last press back, for ten seconds' },
    { keys: 'Escape', does: 'Says that the last alert was seen' },
  ],
  taught: (keys: string): string => `Taught on this tablet: ${keys}. They press the bar.`,
  keyNote:
    'A held or bounced key counts once. No key can do more. A pedal sends one of these keys.',
  sounds: 'Sounds',
  soundHead: 'Sound',
  meaningHead: 'It means',
  soundRows: {
    nearing: { sound: 'One soft tone', meaning: 'The time comes in five seconds' },
    now: { sound: 'Two tones, rising', meaning: 'Now: do what the bar says' },
    over: { sound: 'Three quick tones, falling', meaning: 'Past its longest time' },
    'window-closing': { sound: 'Three slow tones, rising', meaning: 'A window closes soon' },
    'window-broken': { sound: 'Five quick tones, and five more', meaning: 'A window was overrun' },
    'tablet-fault': {
      sound: 'Three long tones, down and up',
      meaning: 'Something is wrong with the tablet',
    },
  } satisfies Readonly<Record<SoundKind, { readonly sound: string; readonly meaning: string }>>,
  soundNote:
    'One at a time, the gravest first. Each stands on the screen in words until it is seen.',
  fails: 'When the tablet fails',
  failLines: [
    'Keep an independent timer on the tray. Start it with the first gel.',
    'Screen dark or frozen: go on by the timer. Open the app again and press Go on: the case is there, and every clock shows the time it may have been.',
    'SOUND OFF in red: touch the screen once. Still red: watch the screen.',
    'SCREEN MAY SLEEP in red: touch the screen now and then.',
    'NOT SAVED in red: write the times down, leave the app open, do not close the window.',
    'Battery empty: go on by the timer, note the times, add them as a note afterwards.',
  ],
  cautions: 'Cautions',
  foot: (o: { readonly version: string; readonly clinic: string }): string =>
    [o.clinic, `Lutewatch ${o.version}`].filter((part) => part !== '').join(', '),
} as const;
