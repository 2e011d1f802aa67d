import { describe, expect, it } from 'vitest';
import { findingLine } from '../../src/cli/words.ts';
import { checkProtocol } from '../../src/protocol/check-protocol.ts';
import { parseProtocol } from '../../src/protocol/parse-protocol.ts';
import { drop, type Json, put } from './documents.ts';
import { inStep, pressedTemplate, read, sweepTime, withPressed } from './pressed-support.ts';

const linesOf = (value: Json): readonly string[] => checkProtocol(read(value)).map(findingLine);
const at = (id: string, rest: string): string => `protocol.steps[${inStep(id)[1]}].${rest}`;
const pressed = (how: Readonly<Record<string, Json>>): Json => withPressed(pressedTemplate, how);
const list = (id: string): Json => ({ kind: 'list', list: id });
const twoLists: Json = [
  { id: 'pause', title: 'Pause', words: 'Pause read out' },
  { id: 'second', title: 'Second', words: 'Second' },
];

describe('the check of how steps are pressed', () => {
  it('has nothing to say where every way fits its step', () => {
    expect(linesOf(pressedTemplate)).toEqual([]);
  });

  it.each<[string, Json, readonly string[]]>([
    [
      'a list that is not there',
      pressed({ charge: list('pauze') }),
      [`${at('charge', 'pressed.list')}: error: there is no list "pauze"`],
    ],
    [
      'a dwell on a list',
      pressed({ 'units-rinsed': list('pause') }),
      [
        `${at('units-rinsed', 'pressed')}: error: "Rinse units" cannot be pressed in the way "list"`,
      ],
    ],
    [
      'a list id used twice',
      put(put(pressedTemplate, ['lists'], twoLists), ['lists', 1, 'id'], 'pause'),
      ['protocol.lists[1].id: error: the id "pause" is used twice'],
    ],
    [
      'a list that no step uses',
      put(pressedTemplate, ['lists'], twoLists),
      ['protocol.lists[1].id: caution: "second" is not used by any step'],
    ],
    [
      'a step outside of a list between two of its lines',
      withPressed(put(pressedTemplate, ['lists'], twoLists), {
        'units-inspected': list('second'),
        'fit-checked': list('second'),
      }),
      [
        'protocol.lists[1]: caution: the list "Second" cannot be taken by one press: "Fit" waits for "Try in" waits for "Look over"',
      ],
    ],
    [
      'a window with a minimum between two lines',
      withPressed(
        put(put(pressedTemplate, ['lists'], twoLists), ['windows', 0, 'to', 'step'], 'read-teeth'),
        { 'materials-out': list('second'), 'read-teeth': list('second') },
      ),
      [
        'protocol.windows[0].minMs: error: the window "Warm-up, adhesive" has a minimum between two lines of one list',
      ],
    ],
    [
      'a sweep of what is done one by one',
      pressed({ 'bond-light': { kind: 'sweep', start: sweepTime(1, 2) } }),
      [`${at('bond-light', 'pressed')}: error: "Expose bond" cannot be pressed in the way "sweep"`],
    ],
    [
      'a sweep of nothing',
      pressed({ acid: { kind: 'sweep' } }),
      [`${at('acid', 'pressed')}: error: a sweep needs a start, an end or both`],
    ],
    [
      'a shortest time above the longest',
      pressed({ acid: { kind: 'sweep', end: sweepTime(9000, 8000) } }),
      [
        `${at('acid', 'pressed.end.shortestMs.value')}: error: shortestMs (9000) is above longestMs (8000)`,
      ],
    ],
    [
      'a swept start of a clock that another step begins',
      pressed({ 'adhesive-stand': { kind: 'sweep', start: sweepTime(1000, 2000) } }),
      [
        `${at('adhesive-stand', 'pressed.start')}: error: the clock begins with "Adhesive", so its start is never pressed`,
      ],
    ],
    [
      'coats that another step would say',
      pressed({ coats: { kind: 'implied', by: ['tooth-resin'] } }),
      [
        `${at('coats', 'pressed.by')}: error: "tooth-resin" does not wait for this step, so it cannot imply it`,
      ],
    ],
    [
      'coats with a gap between them that nobody presses',
      put(
        pressed({ coats: { kind: 'implied', by: ['coats'] } }),
        inStep('coats', 'action', 'gapMsMin'),
        { value: 5000, basis: { kind: 'practice' } },
      ),
      [
        `${at('coats', 'pressed')}: error: the minimum of the window "Adhesive" begins or ends with this step, so it cannot be implied`,
      ],
    ],
    [
      'an implied dwell',
      pressed({ acid: { kind: 'implied', by: ['acid-rinse'] } }),
      [`${at('acid', 'pressed')}: error: "Acid" cannot be pressed in the way "implied"`],
    ],
    [
      'implied by nothing',
      pressed({ load: { kind: 'implied', by: [] } }),
      [
        `${at('load', 'pressed.by')}: error: at least one later step is needed that implies this one`,
      ],
    ],
    [
      'implied by a step that is not there',
      pressed({ load: { kind: 'implied', by: ['seatt'] } }),
      [`${at('load', 'pressed.by[0]')}: error: there is no step "seatt"`],
    ],
    [
      'implied by an earlier step',
      pressed({ load: { kind: 'implied', by: ['seat', 'sample-bead'] } }),
      [
        `${at('load', 'pressed.by[1]')}: error: "Sample bead" does not wait for this step, so it cannot imply it`,
      ],
    ],
    [
      'implied past a step that has a press of its own',
      pressed({
        load: { kind: 'implied', by: ['tack'] },
        excess: { kind: 'implied', by: ['tack'] },
      }),
      [
        `${at('load', 'pressed.by[0]')}: caution: a step with a press of its own lies between this one and "Tack", so that cannot imply it`,
      ],
    ],
    [
      'an implied answer',
      pressed({ 'dam-pieces-in': { kind: 'implied', by: ['liquid-dam'] } }),
      [
        `${at('dam-pieces-in', 'pressed')}: error: "Pieces in" asks for an answer that a person gives, so it cannot be implied`,
      ],
    ],
    [
      'an implied end of a minimum',
      pressed({ 'adhesive-mixed': { kind: 'implied', by: ['etch-dry'] } }),
      [
        `${at('adhesive-mixed', 'pressed')}: error: the minimum of the window "Warm-up, adhesive" begins or ends with this step, so it cannot be implied`,
      ],
    ],
    [
      'what is not light, paced',
      pressed({ load: { kind: 'paced', changeMs: { value: 1, basis: { kind: 'practice' } } } }),
      [`${at('load', 'pressed')}: error: "Load" cannot be pressed in the way "paced"`],
    ],
    [
      'light confirmed by a step that is not there',
      put(pressedTemplate, inStep('expose', 'pressed', 'confirmedBy'), 'gel'),
      [`${at('expose', 'pressed.confirmedBy')}: error: there is no step "gel"`],
    ],
    [
      'light confirmed by a step that does not wait for it',
      put(pressedTemplate, inStep('expose', 'pressed', 'confirmedBy'), 'flash-off'),
      [
        `${at('expose', 'pressed.confirmedBy')}: error: "Set excess" does not wait for this light itself, so it cannot confirm it`,
      ],
    ],
  ])('finds %s', (_, value, lines) => {
    expect(linesOf(value)).toEqual(lines);
  });

  it('finds a swept start of a dwell whose limit is under a minute', () => {
    const own = drop(pressed({}), inStep('adhesive-air', 'beginsWith'));
    const swept = withPressed(own, { 'adhesive-air': { kind: 'sweep', start: sweepTime(1, 2) } });
    expect(linesOf(swept)).toEqual([
      `${at('adhesive-air', 'pressed.start')}: error: the start of "Air" is not pressed, but its maximum (20000 ms) is under a minute`,
    ]);
    const slow = put(swept, inStep('adhesive-air', 'action', 'maxMs', 'value'), 60_000);
    expect(linesOf(slow)).toEqual([]);
  });

  it('does not read a change-over of no time', () => {
    const none = put(pressedTemplate, inStep('tack', 'pressed', 'changeMs', 'value'), 0);
    expect(parseProtocol(none).ok).toBe(false);
  });
});
