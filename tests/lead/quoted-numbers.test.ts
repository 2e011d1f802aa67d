// Sentences as instructions for use write them (invented, in the manner of the trade); the numbers were
// read off by hand.
import { describe, expect, it } from 'vitest';
import { checkProtocol } from '../../src/protocol/check-protocol.ts';
import { type QuotedUnit, quotedNumbers } from '../../src/protocol/quoted-numbers.ts';
import type { Figure, Protocol } from '../../src/protocol/types.ts';
import { template } from './lead-support.ts';

const rows: readonly (readonly [unit: QuotedUnit, sentence: string, found: readonly string[]])[] = [
  ['ms', 'Leave on enamel for 15 seconds.', ['15000']],
  ['ms', 'Leave for 15–30 s, then rinse for 20 s.', ['15000-30000', '20000']],
  ['ms', 'Working time 1 min 30 s at 23 °C', ['60000', '30000', '90000']],
  ['ms', 'Setting time 2:30 min', ['150000']],
  ['ms', '20 Sekunden einwirken lassen', ['20000']],
  ['ms', 'Laisser agir 1,5 minutes.', ['90000']],
  ['ms', '2 x 15 s', ['15000', '30000']],
  ['ms', 'Wait at least 24 hours.', ['86400000']],
  ['ms', 'See table 4, figure 25.', []],
  ['ms', 'Apply to 2 mm and air-dry.', []],
  ['J/cm2', 'At least 16 J/cm² at 1000 mW/cm²', ['16']],
  ['J/cm2', '20 s at 1000 mW/cm²', []],
  ['count', 'Apply two coats, 20 s each.', ['2']],
  ['count', 'Apply 2 coats for 20 s.', ['2']],
  ['count', '3 to 5 layers of 10 µl', ['3-5']],
  ['count', 'Apply a coat for 20 s at 37 % acid.', []],
];

const shown = (low: number, high: number): string => (low === high ? `${low}` : `${low}-${high}`);

describe('the numbers of a quotation', () => {
  it.each(rows)('in %s, of “%s”', (unit, sentence, found) => {
    expect(quotedNumbers(sentence, unit).map(({ low, high }) => shown(low, high))).toEqual(found);
  });
});

/** The template with an etch that was read as `value`, in ms, in a document that says `asWritten`. */
function quoted(value: number, asWritten: string): Protocol {
  const targetMs: Figure = {
    value,
    basis: {
      kind: 'instructions',
      document: 'Gel, IFU',
      revision: '7',
      asWritten,
      confirmedBy: 'Clinic lead C',
      confirmedOn: '2026-11-25',
    },
  };
  const whole = template();
  const steps = whole.steps.map((step) =>
    step.id === 'etch' && step.action.kind === 'dwell'
      ? { ...step, action: { ...step.action, targetMs } }
      : step,
  );
  return { ...whole, steps };
}

const misquoted = (protocol: Protocol) =>
  checkProtocol(protocol).filter(({ code }) => code === 'quote-differs');

describe('a number and its quotation', () => {
  it('differ where the quotation gives times, and none of them is it', () => {
    expect(misquoted(quoted(22_000, 'Leave for 25 s.'))).toMatchObject([
      { level: 'caution', values: { value: 22_000, said: ['25 s'] } },
    ]);
  });

  it('agree where it is one of them, lies between two of them, or the sentence gives no time', () => {
    expect(misquoted(quoted(20_000, 'Leave for 20 s.'))).toEqual([]);
    expect(misquoted(quoted(20_000, 'Leave for 15 to 30 s.'))).toEqual([]);
    expect(misquoted(quoted(20_000, 'See table 4.'))).toEqual([]);
  });
});
