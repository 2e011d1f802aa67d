/** Words of the first look, of the notices on Today, and of what the coach says in the chair. */
export const notice = {
  tour: 'New here?',
  tourTodo: 'Two teeth, two minutes, no patient.',
  tourLost:
    'The first look could not be opened. Try again, and if that fails close the app and open it.',
  tourDo: 'Take a first look',
  tourRunning: 'The first look waits until no case is running in this window.',
  help: 'Help',
  helpLede: 'The first look again, and one sheet of paper to keep beside the chair.',
  later: 'Later',
  mayForget: 'The browser may clear the records in this tab',
  doesNotSay: 'The browser does not say whether it keeps the records in this tab',
  installOffered: 'The installed app keeps records longer.',
  installByMenu:
    'Some browsers delete what a page in a tab has stored when it has not been used for seven days. Add the app to the home screen from the browser’s menu: it keeps records longer.',
  maySleep: 'This browser cannot keep the screen on',
  maySleepTodo: 'Set the tablet so that its screen stays on during a case.',
  install: 'Install the app',
  protect: 'Ask to keep them',
};

/** One thing at a time, keyed by where the rehearsal stands. At most two short lines. */
export const coach = {
  title: 'First look',
  leave: 'Leave the first look',
  lessons: {
    bar: 'The bar says what a press records. Press it, or Space, or a pedal.',
    undo: 'Pressed by mistake? Undo takes back the last press for ten seconds. Now press on.',
    start: 'Press when the gel goes on, not before. Its clock runs from then on.',
    ago: 'Pressed late? “5 s ago” moves the last press back. Now the second tooth.',
    clock: 'Notch: minimum. Line: target. Rim: limit. Press when the water starts.',
    own: 'Each tooth has its own clock. Nothing presses itself.',
    windows: 'A window has opened on the list: it must close before its rim.',
    wrong: 'Saliva on it? Went wrong has the way back. Or press on.',
    list: 'The most urgent window stands first. A seated unit waits for light.',
    light: 'Press as the light goes on. The screen is amber while resin lies open.',
    lightOff: 'Press as the light goes off. Only a light may be interrupted.',
    close: 'All done. Close the case: the record holds every press with its time.',
    record: 'That was it. Open the record, or take this look again from Clinic.',
  },
};
