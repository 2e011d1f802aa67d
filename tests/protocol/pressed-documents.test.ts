/** How steps are pressed, as a part of the document: what is translated, confirmed and compared. */
import { describe, expect, it } from 'vitest';
import { checkProtocol } from '../../src/protocol/check-protocol.ts';
import { changeId, diffProtocols, editsForChanges } from '../../src/protocol/diff.ts';
import { replayEdits } from '../../src/protocol/edit.ts';
import { figuresOf, spotOfPlace, unconfirmedFigures } from '../../src/protocol/edit-types.ts';
import { withNeeded } from '../../src/protocol/open-corrections.ts';
import { checkRanges } from '../../src/protocol/ranges.ts';
import { parseRanges } from '../../src/protocol/ranges-table.ts';
import { takenWhole } from '../../src/protocol/taken-whole.ts';
import { toldTexts } from '../../src/protocol/told-texts.ts';
import { textHash, translate } from '../../src/protocol/translate.ts';
import { basesOf } from '../../src/protocol/walk-figures.ts';
import { json, put, sharedText } from './documents.ts';
import {
  inStep,
  plainTemplate,
  pressedTemplate,
  read,
  sweepTime,
  withPressed,
} from './pressed-support.ts';

const template = read(plainTemplate);
const pressed = read(pressedTemplate);

describe('how steps are pressed, in the document', () => {
  it('the title and the words of a list are translated, and no id', () => {
    const more = toldTexts(pressed).filter((text) => !toldTexts(template).includes(text));
    expect(more).toEqual(['Pause', 'Pause read out']);
    const texts = { [textHash('Pause')]: 'Teampause' };
    const { protocol } = translate(pressed, { protocol: pressed.id, language: 'de', texts });
    expect(protocol.lists).toEqual([{ id: 'pause', title: 'Teampause', words: 'Pause read out' }]);
  });

  it('every number with a basis is one that the lead confirms', () => {
    const placed = basesOf(pressed).flatMap(({ place, figure }) => {
      const spot = figure === null ? null : spotOfPlace(pressed, place);
      return spot === null
        ? []
        : [`${spot.part} ${spot.id} ${spot.key.replace(/\[(\d+)\]/g, '.$1')}`];
    });
    const named = figuresOf(pressed).map(({ spot }) => `${spot.part} ${spot.id} ${spot.key}`);
    expect(named.toSorted()).toEqual(placed.toSorted());
    const open = unconfirmedFigures(pressed).filter(({ spot }) => spot.key.startsWith('pressed.'));
    expect(open.map(({ spot }) => `${spot.id} ${spot.key}`)).toEqual([
      'acid pressed.start.shortestMs',
      'acid pressed.start.longestMs',
      'acid pressed.end.shortestMs',
      'acid pressed.end.longestMs',
      'etch-dentine pressed.end.shortestMs',
      'etch-dentine pressed.end.longestMs',
      'tack pressed.changeMs',
      'expose pressed.changeMs',
    ]);
  });

  it('a difference names one time, one line and one list, and brings them over', () => {
    const changed = put(
      put(
        withPressed(pressedTemplate, { load: { kind: 'implied', by: ['seat', 'tack'] } }),
        inStep('acid', 'pressed', 'end', 'longestMs', 'value'),
        9000,
      ),
      ['lists', 0, 'words'],
      'Pause done',
    );
    const other = read(withPressed(changed, { charge: { kind: 'list', list: 'other' } }));
    const changes = diffProtocols(pressed, other);
    const named = changes.map((each) => [each.part, each.id, 'key' in each ? each.key : each.kind]);
    expect(named).toEqual([
      ['steps', 'charge', 'pressed.list'],
      ['steps', 'acid', 'pressed.end.longestMs'],
      ['steps', 'load', 'pressed.by'],
      ['lists', 'pause', 'words'],
    ]);
    const merged = replayEdits(pressed, editsForChanges(changes, other));
    expect(merged).toEqual({ ok: true, value: other });
    const all = replayEdits(template, editsForChanges(diffProtocols(template, pressed), pressed));
    expect(all).toEqual({ ok: true, value: pressed });
    const back = replayEdits(pressed, editsForChanges(diffProtocols(pressed, template), template));
    expect(back).toEqual({ ok: true, value: template });
  });

  it('the way of one step, taken over alone, brings along the list and the steps that it names', () => {
    const steps = template.steps.filter(({ id }) => id !== 'gel-lifted');
    const without = replayEdits(template, [{ do: 'remove', part: 'steps', id: 'gel-lifted' }]);
    if (!without.ok) throw new Error(without.error[0]?.place);
    expect(without.value.steps).toHaveLength(steps.length);
    const all = diffProtocols(without.value, pressed);
    const chosen = (id: string) => all.filter((each) => changeId(each) === `steps/${id}/pressed`);
    const brought = (id: string) => withNeeded(chosen(id), all).map(changeId);
    expect(brought('charge')).toEqual(['steps/charge/pressed', 'lists/pause/added']);
    expect(brought('tack')).toContain('steps/gel-lifted/added');
    const sides = { here: without.value, template: pressed, all };
    const taken = editsForChanges(takenWhole(chosen('charge'), sides), pressed, without.value);
    const outcome = replayEdits(without.value, taken);
    expect(outcome.ok && outcome.value.lists).toEqual(pressed.lists);
    // Without the lift the steps wait in a circle, and nothing is added to that.
    expect(outcome.ok && checkProtocol(outcome.value).map(({ code }) => code)).toEqual(
      checkProtocol(without.value).map(({ code }) => code),
    );
  });

  // Common practice, no source: 1 to 30 s for one tooth of a sweep, 2 to 15 s to move the lamp on.
  it('a time of a sweep or a change-over outside of the usual is told', () => {
    const ranges = parseRanges(json(sharedText('tables/step-ranges.json')));
    if (!ranges.ok) throw new Error(ranges.error[0]?.place);
    const rangeOf = (document: typeof pressedTemplate) =>
      checkRanges(read(document), ranges.value)
        .filter(({ place }) => place.includes('pressed'))
        .map(({ place, values }) => [place.replace(/^.*pressed/, 'pressed'), values['value']]);
    expect(rangeOf(pressedTemplate)).toEqual([]);
    const slow = withPressed(pressedTemplate, {
      acid: { kind: 'sweep', start: sweepTime(500, 30_000), end: sweepTime(1000, 31_000) },
    });
    expect(rangeOf(put(slow, inStep('tack', 'pressed', 'changeMs', 'value'), 16_000))).toEqual([
      ['pressed.start.shortestMs', 0.5],
      ['pressed.end.longestMs', 31],
      ['pressed.changeMs', 16],
    ]);
  });
});
