/** Scanning a label and reading it back, and what is wrong with a code. */
import type { LabelFact, LabelFaultTexts } from '../../calc/udi/label-fault.ts';

const fact = {
  lot: 'lot',
  serial: 'serial number',
  expiry: 'expiry date',
  produced: 'production date',
  due: 'due date',
  packaged: 'packaging date',
  'best-before': 'best-before date',
  'sell-by': 'sell-by date',
} satisfies Record<LabelFact, string>;

export const scan = {
  title: 'Scan a label',
  waiting: 'Scan the label now, or show it to the camera.',
  camera: 'Use the camera',
  cameraOff: 'Turn the camera off',
  cameraLabel: 'Picture from the camera',
  photo: 'Read a photograph',
  typed: 'Or type the code',
  typedHint: 'With the brackets, as printed below the bars: (01)…(17)…(10)…',
  typedDo: 'Read',
  tooSlow: (o: { readonly gapMs: number; readonly gapMsMax: number }): string =>
    `The keys came up to ${o.gapMs} ms apart. Above ${o.gapMsMax} ms a scanner cannot be told from typing. Set a shorter delay on the scanner, or touch the field below and scan again: there every speed is read.`,
  decoderLoading: 'The code reader is being loaded.',
  decoderSaved: 'The code reader is on this tablet. The camera works offline.',
  decoderMissing:
    'The code reader is not on this tablet yet. It is fetched once, as soon as there is a network. A scanner and typing work without it.',
  noneInPhoto: 'No code was found in this photograph. Go closer, hold still, add light.',
  failures: {
    'camera-not-allowed':
      'This app may not use the camera. Allow it in the browser, or take a photograph.',
    'no-camera':
      'There is no camera to use here. Take a photograph, use a scanner or type the code.',
    'not-a-picture': 'The browser cannot open this file as a picture.',
    'no-decoder': 'The code reader cannot be loaded. Use a scanner, or type the code.',
  },
  failed: 'That did not work. Use a scanner, or type the code.',
  readBack: 'Compare with the box',
  again: 'Scan again',
  more: 'Something is still missing. Scan the other code on the label too.',
  take: 'The box says the same',
  byHand: 'Enter by hand instead',
  problems: 'This code was not accepted',
  problemsTodo: 'Scan it again, or type in what is printed on the box.',
  facts: {
    issuer: 'Code standard',
    device: 'Device identifier',
    lot: 'Lot',
    expiry: 'Expires',
    produced: 'Made on',
    serial: 'Serial number',
    additional: 'Further code of the maker',
  },
  none: 'not in the code',
  month: 'The label gives only the month. Its last day is meant.',
  settings: 'A scanner that cannot send the separator',
  separator: 'What it sends instead of ASCII 29',
  separatorHint:
    'One or two characters, such as ^ or |. Leave empty when it sends ASCII 29, Control and ], or F8.',
  faults: {
    'not-plain': () =>
      'The text has characters that no label code has. Check the scanner’s keyboard layout.',
    'too-long': (o) => `The text is longer than ${o.max} characters. No label is that long.`,
    'other-symbol': (o) => `A symbol of type ${o.symbol} carries neither a GS1 nor an HIBC label.`,
    'no-label': () => 'This is neither a GS1 nor an HIBC label.',
    'no-ai-at': (o) => `No known identifier begins at “${o.at}”.`,
    'no-brackets-at': (o) => `An identifier in brackets is missing at “${o.at}”.`,
    'ai-unknown': (o) => `(${o.ai}) is not a known identifier.`,
    'ai-length': (o) =>
      o.min === o.max
        ? `(${o.ai}) must have ${o.min} characters. It has ${o.has}.`
        : `(${o.ai}) must have ${o.min} to ${o.max} characters. It has ${o.has}.`,
    'ai-not-digits': (o) => `(${o.ai}) must have digits only.`,
    'ai-character': (o) => `(${o.ai}) has a character that GS1 does not allow.`,
    'ai-date': (o) => `(${o.ai}) The ${fact[o.of]} “${o.data}” is not a date.`,
    'ai-twice': (o) => `(${o.ai}) appears twice and differs.`,
    'ai-excludes': (o) => `(${o.ai}) and (${o.other}) cannot both be on one label.`,
    'check-digit': (o) => `(01) The check digit is wrong in ${o.identifier}.`,
    'no-device': () => 'The device identifier (01) is not in this code.',
    'no-product': () => 'The product identifier is not in this code. Scan the first code too.',
    'product-form': (o) => `“${o.text}” is not a product identifier.`,
    twice: (o) => `The ${fact[o.of]} appears twice and differs.`,
    date: (o) => `“${o.text}” is not a date.`,
    'expiry-date': (o) => `The expiry date “${o.digits}” is not a date.`,
    'date-form': (o) => `“${o.digit}” begins no known form of date.`,
    quantity: (o) => `The quantity “${o.digits}” is not a number of ${o.length} digits.`,
    meaning: (o) => `“${o.text}” has no known meaning.`,
    length: (o) => `“${o.text}” must have 1 to ${o.max} characters.`,
    character: () => 'The code has a character that HIBC does not allow.',
    'check-character': (o) => `The check character is “${o.given}”. It should be “${o.right}”.`,
    'separators-left-out': () =>
      'The lot seems to hold the expiry date too. This scanner may leave separators out.',
    'codes-apart': () => 'The two codes do not belong together.',
  } satisfies LabelFaultTexts,
};
