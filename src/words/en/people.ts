/** Words of the list of people who work at the clinic. */

export const people = {
  title: 'People of the clinic',
  lede: 'They are offered wherever a name is asked for; any other name can still be typed. The list is part of the backup, and the same on every tablet of the clinic.',
  none: 'Nobody is on the list.',
  roles: { dentist: 'Dentist', assistant: 'Assistant', lead: 'Clinic lead' },
  line: (o: { readonly name: string; readonly role: string }): string => `${o.name}, ${o.role}`,
  takeOff: 'Take off',
  takeOffName: (name: string): string => `Take ${name} off the list`,
  name: 'Name or initials',
  nameHint: 'As records are to name this person.',
  role: 'Role',
  add: 'Put on the list',
  empty: 'Type a name or initials.',
  tooLong: 'Type a shorter name.',
  lost: 'This was not saved.',
  choices: 'People of the clinic',
  choose: (name: string): string => `Take the name ${name}`,
};
