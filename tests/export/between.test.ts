/**
 * What every form of a record tells of light that was broken off, of a rest between exposures and of a gap
 * between coats that were not kept. The figures are reckoned by hand from the rows of each case.
 */
import { describe, expect, it } from 'vitest';
import { exportFile } from '../../src/export/export-forms.ts';
import { Chair } from '../engine/chair.ts';
import { coats, expose, protocolOf, settingOf, step } from '../engine/fixture.ts';
import { sourceOf } from './journals.ts';

type Row = Readonly<Record<string, string>>;

/** The cells of a table whose cells hold no commas. */
function rowsOf(text: string): readonly Row[] {
  const [head = '', ...lines] = text.trim().split(/\r\n/);
  const names = head.replace('\uFEFF', '').split(',');
  return lines.map((line) =>
    Object.fromEntries(line.split(',').map((cell, i) => [names[i] ?? '', cell])),
  );
}

const PROTOCOL = protocolOf([
  step('coats', 'tooth', coats(2, 4)),
  step(
    'expose',
    'unit',
    expose({ surfaces: ['facial', 'lingual'], seconds: 10, restSeconds: 20 }),
    {
      after: ['coats'],
    },
  ),
]);

/** 11: coats 3 s apart, 7 s of rest, and 4 s of the second 10 s of light. 21: all as it is asked. */
const chair = new Chair(settingOf(PROTOCOL, ['11', '21'], { restMs: {} })).rows(`
  at 0 s   coat coats 11
  at 3 s   coat coats 11
  at 3 s   coat coats 21
  at 7 s   coat coats 21
  at 10 s  light-on expose 11 facial
  at 20 s  light-off expose 11
  at 27 s  light-on expose 11 lingual
  at 31 s  skip expose 11 because the light failed
  at 60 s  light-on expose 21 facial
  at 70 s  light-off expose 21
  at 90 s  light-on expose 21 lingual
  at 100 s light-off expose 21
`);
const source = sourceOf(chair.log);
const form = (name: Parameters<typeof exportFile>[1]): string => exportFile(source, name).text;

describe('the table of steps', () => {
  const rows = rowsOf(form('csv-steps'));
  const told = (name: string, subject: string) => {
    const row = rows.find((r) => r['step'] === name && r['subject'] === subject);
    return [
      row?.['short_by_ms'],
      row?.['asked_between_min_ms'],
      row?.['between_short_by_ms'],
      row?.['limits'],
    ];
  };

  it('tells how much light was not given, and how much of a rest or a gap', () => {
    expect(told('expose', 'unit:11')).toEqual(['6000', '20000', '13000', 'broken']);
    expect(told('coats', 'tooth:11')).toEqual(['0', '4000', '1000', 'broken']);
  });

  it('tells what was kept', () => {
    expect(told('expose', 'unit:21')).toEqual(['0', '20000', '0', 'kept']);
    expect(told('coats', 'tooth:21')).toEqual(['0', '4000', '0', 'kept']);
  });
});

it('the text tells each beside its step and among the limits that were not kept', () => {
  const text = form('text');
  const count = (words: string) => text.split(words).length - 1;
  expect(count('exposure given short by 6 s')).toBe(2);
  expect(count('rest between exposures short by 13 s')).toBe(2);
  expect(count('time between coats short by 1 s')).toBe(2);
});

it('the bundle tells them as notes of the case and as components of the light', () => {
  const text = form('fhir');
  const notes = [...text.matchAll(/Bound not kept: [^"]*/g)].map(([line]) => line);
  expect(notes).toEqual([
    'Bound not kept: tooth 11: coats, time between coats short by 1 s',
    'Bound not kept: unit 11: expose, rest between exposures short by 13 s',
    'Bound not kept: unit 11: expose, exposure given short by 6 s',
  ]);
  const bundle: { entry: { resource: { component?: { code: { text: string } }[] } }[] } =
    JSON.parse(text);
  const seconds = bundle.entry
    .flatMap(({ resource }) => resource.component ?? [])
    .filter(({ code }) => code.text.startsWith('shortfall'))
    .map((component) => [component.code.text, Reflect.get(component, 'valueQuantity').value]);
  expect(seconds).toEqual([
    ['shortfall', 6],
    ['shortfall of the rest', 13],
  ]);
});
