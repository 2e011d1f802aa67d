import { alg, Graph } from '@dagrejs/graphlib';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { findingLine } from '../../src/cli/words.ts';
import { checkProtocol } from '../../src/protocol/check-protocol.ts';
import { findingCodes } from '../../src/protocol/finding.ts';
import { parseProtocol } from '../../src/protocol/parse-protocol.ts';
import type { Protocol } from '../../src/protocol/types.ts';
import { runSize } from '../tools/run-size.ts';
import { at, drop, type Json, json, mutationsOf, put, templateText } from './documents.ts';
import { pressedTemplate } from './pressed-support.ts';

const template = json(templateText());

function read(value: Json): Protocol {
  const parsed = parseProtocol(value);
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.error));
  return parsed.value;
}

const protocol = read(template);
const indexOf = (id: string): number => protocol.steps.findIndex((step) => step.id === id);
const step = (id: string, ...rest: (string | number)[]) => ['steps', indexOf(id), ...rest];
const linesOf = (value: Json): readonly string[] => checkProtocol(read(value)).map(findingLine);

const etch = indexOf('etch');
const lateWay = protocol.waysBack.findIndex((way) => way.id === 'cement-late');
const practice = { kind: 'practice' };

describe('checkProtocol', () => {
  it('has nothing to say about the first template', () => {
    expect(linesOf(template)).toEqual([]);
  });

  it.each<[string, Json, string]>([
    [
      'an id used twice',
      put(template, step('etch', 'id'), 'coats'),
      `protocol.steps[${indexOf('coats')}].id: error: the id "coats" is used twice`,
    ],
    [
      'a stage that is not there',
      put(template, step('etch', 'stage'), 'etching'),
      `protocol.steps[${etch}].stage: error: there is no stage "etching"`,
    ],
    [
      'a step that is not there',
      put(template, step('etch', 'after', 0, 'step'), 'dam'),
      `protocol.steps[${etch}].after[0].step: error: there is no step "dam"`,
    ],
    [
      'a slot that is not there',
      put(template, step('etch', 'uses', 0), 'gel'),
      `protocol.steps[${etch}].uses[0]: error: there is no material slot "gel"`,
    ],
    [
      'a caution that is not there',
      put(template, step('etch', 'cautions', 0), 'acid'),
      `protocol.steps[${etch}].cautions[0]: error: there is no caution "acid"`,
    ],
    [
      'a way back that asks after a step that is not there',
      put(template, ['waysBack', lateWay, 'voids', 0, 'onlyAfter'], 'filling'),
      `protocol.waysBack[${lateWay}].voids[0].onlyAfter: error: there is no step "filling"`,
    ],
    [
      'a source that is not there',
      put(template, step('etch', 'action', 'minMs', 'basis', 'source'), 'nobody-1900'),
      `protocol.steps[${etch}].action.minMs.basis.source: error: there is no source "nobody-1900"`,
    ],
    [
      'a way back that is not there',
      put(template, ['windows', 2, 'wayBack'], 'home'),
      'protocol.windows[2].wayBack: error: there is no way back "home"',
    ],
    [
      'a source of a way back that is not there',
      put(template, ['waysBack', 0, 'basis'], { kind: 'published', source: 'gone' }),
      'protocol.waysBack[0].basis.source: error: there is no source "gone"',
    ],
    [
      'an option that its step does not have',
      put(template, step('etch', 'onlyIf'), [{ step: 'shade', option: 'maybe' }]),
      `protocol.steps[${etch}].onlyIf[0].option: error: that step has no option "maybe"`,
    ],
    [
      'a condition that nothing answers',
      put(template, ['waysBack', 0, 'where'], [{ fact: 'substrate', is: [] }]),
      'protocol.waysBack[0].where: error: a condition without a value never holds',
    ],
    [
      'a loop to a step that is not there',
      put(template, step('shade', 'action', 'options', 1, 'redo', 0), 'try-again'),
      `protocol.steps[${indexOf('shade')}].action.options[1].redo[0]: error: there is no step "try-again"`,
    ],
    [
      'a material scan of a slot that is not there',
      put(template, step('read-teeth', 'action'), {
        kind: 'confirm',
        evidence: { kind: 'material', slot: 'glue' },
      }),
      'protocol.steps[1].action.evidence.slot: error: there is no material slot "glue"',
    ],
    [
      'the same subject across different scopes',
      put(template, step('load', 'after', 0, 'link'), 'same'),
      `protocol.steps[${indexOf('load')}].after[0].link: error: the link "same" from unit to mix needs both steps to be done to the same kind of subject`,
    ],
    [
      'a linked subject within one scope',
      put(template, step('seat', 'after', 0, 'link'), 'linked'),
      `protocol.steps[${indexOf('seat')}].after[0].link: error: the link "linked" from unit to unit joins different kinds of subjects; "same" is meant here`,
    ],
    [
      'a previous case',
      put(template, step('read-teeth', 'after', 0, 'link'), 'previous'),
      'protocol.steps[1].after[0].link: error: the link "previous" from case to case has no previous subject, since there is one case only',
    ],
    [
      'a rinse per tooth that begins with an acid per unit',
      put(template, step('etch-rinse', 'beginsWith'), 'acid'),
      `protocol.steps[${indexOf('etch-rinse')}].beginsWith: error: the link "same" from tooth to unit needs both steps to be done to the same kind of subject`,
    ],
    [
      'a minimum above its target',
      put(template, step('etch', 'action', 'minMs', 'value'), 35_000),
      `protocol.steps[${etch}].action.minMs.value: error: minMs (35000) is above targetMs (30000)`,
    ],
    [
      'a target above its maximum',
      put(template, step('etch', 'action', 'maxMs', 'value'), 19_000),
      `protocol.steps[${etch}].action.targetMs.value: error: targetMs (30000) is above maxMs (19000)`,
    ],
    [
      'a window with crossed bounds',
      put(template, ['windows', 2, 'minMs'], { value: 4_000_000, basis: practice }),
      'protocol.windows[2].minMs.value: error: minMs (4000000) is above maxMs (3600000)',
    ],
    [
      'a window without a bound',
      drop(template, ['windows', 2, 'maxMs']),
      'protocol.windows[2]: error: the window "Light shield" has neither a minimum nor a maximum',
    ],
    [
      'a window from a moment to itself',
      put(template, ['windows', 2, 'to'], { step: 'primer-air', edge: 'end' }),
      'protocol.windows[2]: error: the window "Light shield" begins and ends with the same moment',
    ],
    [
      'an exposure without any time',
      drop(template, step('tack', 'action', 'perSurfaceMs')),
      `protocol.steps[${indexOf('tack')}].action: error: an exposure needs a time for each surface, a radiant exposure, or both`,
    ],
    [
      'an exposure of nothing',
      put(template, step('tack', 'action', 'surfaces'), []),
      `protocol.steps[${indexOf('tack')}].action: error: an exposure needs at least one surface`,
    ],
    [
      'a surface listed twice',
      put(template, step('expose', 'action', 'surfaces', 1), 'facial'),
      `protocol.steps[${indexOf('expose')}].action.surfaces[1]: error: the surface "facial" is listed twice`,
    ],
    [
      'a choice of nothing',
      put(template, step('shade', 'action', 'options'), []),
      `protocol.steps[${indexOf('shade')}].action.options: error: a choice needs at least one option`,
    ],
    [
      'a press that begins with the end of another step',
      put(template, step('units-dried', 'beginsWith'), 'acid-rinse'),
      `protocol.steps[${indexOf('units-dried')}].beginsWith: error: only a dwell can begin with the end of another step`,
    ],
    [
      'a clock that begins with a step nobody waits for',
      put(template, step('etch-rinse', 'after'), [{ step: 'liquid-dam', link: 'all' }]),
      `protocol.steps[${indexOf('etch-rinse')}].beginsWith: caution: the clock begins with "etch-dentine", but the step does not wait for it`,
    ],
    [
      'hands for a step without a dwell',
      put(template, step('load', 'hands'), {
        applyMs: { value: 1, basis: practice },
        rinseMs: { value: 1, basis: practice },
      }),
      `protocol.steps[${indexOf('load')}].hands: caution: the rhythm of the hands counts only for a step with a dwell`,
    ],
    [
      'a slot that nothing uses',
      drop(template, step('glycerine', 'uses')),
      'protocol.slots[9].id: caution: "glycerine-gel" is not used by any step',
    ],
    [
      'no steps at all',
      put(put(put(template, ['steps'], []), ['windows'], []), ['waysBack'], []),
      'protocol.steps: error: a protocol needs at least one step',
    ],
  ])('finds %s', (_, value, line) => {
    expect(linesOf(value)).toContain(line);
  });

  it('tells a circle in words, in order', () => {
    const after = at(template, step('units-dried', 'after'));
    const circle = [...(Array.isArray(after) ? after : []), { step: 'primer', link: 'same' }];
    expect(linesOf(put(template, step('units-dried', 'after'), circle))).toEqual([
      `protocol.steps[${indexOf('units-dried')}].after: error: steps wait for each other in a circle: "Dry units" waits for "Prime" waits for "Dry units"`,
    ]);
  });

  it('tells a step that waits for itself', () => {
    const value = put(template, step('bite', 'after'), [{ step: 'bite', link: 'all' }]);
    expect(linesOf(value)[0]).toContain('"Bite" waits for "Bite"');
  });

  it('lets a unit wait for the one before it, but not for all of its own kind', () => {
    const seatAfter = (link: string) =>
      put(template, step('seat', 'after'), [
        { step: 'load', link: 'same' },
        { step: 'seat', link },
      ]);
    expect(linesOf(seatAfter('previous'))).toEqual([]);
    expect(linesOf(seatAfter('all'))[0]).toContain('"Seat" waits for "Seat"');
  });

  it('sees that a barrier and "previous" together block each other', () => {
    // Every tooth's etch waits for the light on the tooth before, the light waits for every etch.
    const value = put(template, step('etch', 'after'), [
      { step: 'liquid-dam', link: 'all' },
      { step: 'expose', link: 'previous' },
    ]);
    expect(linesOf(value)[0]).toMatch(/in a circle: .*"Etch"/);
  });

  it('finds circles exactly where an outside graph library finds them', () => {
    // Outside reference: @dagrejs/graphlib, alg.isAcyclic.
    const first = read(template).steps[0];
    const edges = fc.array(fc.tuple(fc.nat({ max: 6 }), fc.nat({ max: 6 })), { maxLength: 9 });
    const seen = new Set<boolean>();
    fc.assert(
      fc.property(edges, (pairs) => {
        const graph = new Graph({ directed: true });
        const steps = Array.from({ length: 7 }, (_, n) => {
          graph.setNode(`s${n}`);
          const mine = pairs.filter(([from]) => from === n).map(([, to]) => to);
          for (const to of mine) graph.setEdge(`s${n}`, `s${to}`);
          return {
            ...(first ?? protocol.steps[1]),
            id: `s${n}`,
            after: mine.map((to) => ({ step: `s${to}`, link: 'all' })),
          };
        });
        const found = checkProtocol(
          read({ ...Object(template), steps, windows: [], waysBack: [] }),
        );
        const hasCircle = found.some(({ code }) => code === 'waits-in-a-circle');
        seen.add(hasCircle);
        expect(hasCircle).toBe(!alg.isAcyclic(graph));
      }),
      { numRuns: 300 },
    );
    expect(seen.size).toBe(2);
  }, 60_000);

  it('can check whatever parses, and every finding has its words', () => {
    const codes: ReadonlySet<string> = new Set(findingCodes);
    let parsed = 0;
    fc.assert(
      fc.property(fc.oneof(mutationsOf(template), mutationsOf(pressedTemplate)), (changed) => {
        const document = parseProtocol(changed);
        if (!document.ok) return;
        parsed += 1;
        for (const finding of checkProtocol(document.value)) {
          expect(codes.has(finding.code)).toBe(true);
          expect(findingLine(finding)).not.toMatch(/undefined|""|NaN/);
        }
      }),
      { numRuns: runSize({ long: 1000, part: 400 }) },
    );
    expect(parsed).toBeGreaterThan(20);
  }, 60_000);
});
