/** Words of the first look, of the notices on Today, and of what the coach says in the chair. */
export const noticeWords = {
  tour: 'New here?',
  tourTodo: 'Two teeth, two minutes, no patient.',
  tourDo: 'Take a first look',
  tourRunning: 'The first look waits until no case runs in this window.',
  help: 'Help',
  helpLede: 'The first look again, and one sheet of paper for beside the chair.',
  later: 'Later',
  mayForget: 'This browser tab may be cleared',
  doesNotSay: 'This browser tab may not be kept',
  installOffered: 'Records stay longer in the installed app.',
  installByMenu: 'Add the app to the home screen by the browser’s menu: records stay longer.',
  install: 'Install the app',
  protect: 'Ask to keep them',
} as const;

/** One thing at a time, keyed by where the rehearsal stands. At most two short lines. */
export const coachWords = {
  title: 'First look',
  leave: 'Leave the first look',
  lessons: {
    bar: 'The bar says what a press records. Press it, or Space, or a pedal.',
    undo: 'Pressed wrong? Undo takes the last press back for ten seconds. Now press on.',
    start: 'Press when the gel goes on, not before. From then on its clock runs.',
    ago: 'Pressed late? “5 s ago” moves the last press back. Now the second tooth.',
    clock: 'Notch: minimum. Line: target. Rim: limit. Press when the water starts.',
    own: 'Each tooth has its own clock, and nothing presses by itself.',
    windows: 'On the list a window has opened: it must close before its rim.',
    wrong: 'Saliva on it? More, then Went wrong: the way back is there. Or press on.',
    list: 'The most pressing window stands first. A seated unit waits for light.',
    light: 'Press as the light goes on. The screen is amber while resin lies open.',
    lightOff: 'Press as the light goes off. Only a light may be interrupted.',
    close: 'All done. Close the case: the record holds every press with its time.',
    record: 'That was it. Open the record, or take this look again from Clinic.',
  },
} as const;
