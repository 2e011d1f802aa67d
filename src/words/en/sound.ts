/** Whether the sound is heard. */
export const sound = {
  test: 'Play test sound',
  asked: 'Who heard it?',
  dentist: 'The dentist',
  assistant: 'The assistant',
  nobody: 'Nobody',
  nobodyTodo:
    'Turn up the tablet’s own volume, switch off its silent mode, unplug headphones, then test again. Until someone hears it, watch the screen.',
  never: 'Sound not heard yet',
  heard: {
    dentist: (day: string): string => `Sound heard ${day} by the dentist`,
    assistant: (day: string): string => `Sound heard ${day} by the assistant`,
    team: (day: string): string => `Sound heard ${day} by the team`,
  },
  old: 'Longer than a week ago: test again.',
  quieter: 'The volume was turned down since: test again.',
  todo: 'Play it where the tablet stands, with the suction on.',
};
