/** Words of the clinic page. */
export const settingWords = {
  title: 'Clinic',
  lede: 'How this tablet looks, sounds and is pressed. Kept on this tablet only.',
  notKept: 'This was not kept.',
  notKeptTodo: 'This window only reads. Press "Write here" above first.',
  who: 'Clinic',
  clinic: 'Name of the clinic',
  clinicHint: 'Shown on records. Leave it empty if you like.',
  notation: 'How teeth are named in new cases',
  notations: { fdi: 'FDI, 11', universal: 'Universal, 8', palmer: 'Palmer, UR1' },
  screen: 'Screen',
  theme: 'Look',
  themes: { auto: 'As the tablet', light: 'Light', dark: 'Dark' },
  amber: 'Amber while uncured resin is exposed',
  amberNote: 'Dims the screen and takes the blue out of it, so that the tablet adds less light.',
  amberFigure: (o: {
    readonly before: string;
    readonly after: string;
    readonly times: number;
    readonly white: number;
  }): string =>
    `Blue light of a chair screen, weighted for the eye (IEC 62471): ${o.before} W/m²/sr light, ${o.after} amber, ${o.times} times less. For typical display primaries from memory at ${o.white} cd/m² of white; not measured on this tablet.`,
  leftHanded: 'Left-handed',
  leftHandedNote: 'Undo stands at the left end of the bar.',
  distance: 'Reading distance',
  distanceHint: 'From the dentist’s eyes to the tablet. Figures are sized for it.',
  calibrate: 'Size of this screen',
  calibrateLede:
    'Lay a bank card on the outline and make it as wide as the card. A card of that format is 85.60 mm wide.',
  calibrateSource: 'ISO/IEC 7810:2019, format ID-1: 85.60 mm by 53.98 mm',
  cardWidth: 'Width of the outline',
  cardName: 'Outline of a bank card',
  cardHint: 'Press until both edges meet',
  calibrated: (pxPerMm: string): string => `Calibrated: ${pxPerMm} px per millimetre`,
  notCalibrated: 'Not calibrated. A common ten-inch tablet is assumed.',
  keepSize: 'The card fits',
  forgetSize: 'Forget the calibration',
  finely: 'Finely',
  coarsely: 'In steps',
  sound: 'Sound',
  volume: 'Loudness',
  soundStates: {
    on: 'Sound is on',
    muted: 'Sound is muted',
    locked: 'Sound waits for a touch',
    interrupted: 'Another app holds the sound',
    off: 'Sound is off',
  },
  spoken: 'Say the words aloud',
  spokenNote: 'With a voice of this tablet, where it has one.',
  pedal: 'Pedal and keys',
  pedalLede: 'A Bluetooth pedal counts as a keyboard.',
  pedalDo: 'Press what the bar says',
  pedalKeys: 'Space, Enter or Page Down',
  pedalNote: 'A held key and a bounced key count once. Nothing else can be done by pedal.',
  undoDo: 'Take the last press back',
  undoKeys: 'Backspace, Page Up, or the Undo end of the bar, for ten seconds',
  storage: 'Keeping',
  protection: {
    protected: 'The browser has promised not to clear the records by itself.',
    evictable: 'The browser may clear the records when space runs short or the app is not used.',
    unknown: 'The browser does not say whether it keeps the records.',
  },
  backup: 'Make a backup, or bring one back',
  protect: 'Ask the browser to keep them',
  installed: 'Opened as an installed app',
  inTab: 'Opened in a browser tab. Add the app to the home screen: it is kept longer there.',
  copies: (count: number): string =>
    count === 2
      ? 'Every entry is kept twice'
      : count === 1
        ? 'Every entry is kept once'
        : 'Nothing can be kept now',
  used: (size: string): string => `${size} used`,
  factCopies: 'Copies',
  factUsed: 'Space',
  factOpened: 'Window',
  app: 'App',
  version: 'Version',
  update: {
    none: 'This is the newest version this tablet has seen.',
    waiting: 'A newer version is on this tablet.',
    applying: 'Changing to the newer version.',
    unsupported: 'This browser cannot keep the app for use without a network.',
    failed: 'The newer version could not be fetched.',
  },
  updateRunning: 'It is offered when no case runs.',
  updateDo: 'Change to it',
  cautions: 'What this app is',
  cautionLines: [
    'This is a timer and a notebook for trained staff. Keep an independent timer. Instructions for use and licensed judgement govern.',
    'It says how much time has elapsed and what exposure was given. It does not say that a material has set.',
    'Eye protection for everyone while the light is on. Amber shield between the light and every eye.',
    'Uncured resin can sensitise. No touch; gloves are changed when it happens.',
    'No patient name is needed. A case carries a chart reference, and nothing leaves this tablet.',
  ],
} as const;
