/** Words for testing and teaching keys and pedals. */
const VERBS: Readonly<Record<string, string>> = {
  press: 'it presses the bar',
  undo: 'it takes the last press back',
  acknowledge: 'it says that an alert was seen',
};

export const keyWords = {
  test: 'Test a pedal or key',
  waiting: 'Press the pedal or key now. It does nothing else meanwhile.',
  seen: (o: { readonly key: string; readonly verb: string | null }): string =>
    o.verb === null
      ? `Alive: ${o.key}. It means nothing yet.`
      : `Alive: ${o.key}, ${VERBS[o.verb] ?? o.verb}.`,
  teach: (key: string): string => `Let ${key} press the bar`,
  notTeachable: 'The browser needs this key for itself. Set the pedal to another one.',
  done: 'End the test',
  forget: (key: string): string => `Forget ${key}`,
  forgetShort: 'Forget',
} as const;
