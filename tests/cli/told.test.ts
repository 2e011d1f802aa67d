/** What the terminal prints for people, and the text of a FHIR bundle, come from the language that is spoken. */
import { readFileSync } from 'node:fs';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { main } from '../../src/cli/main.ts';
import { NO_CLINIC } from '../../src/export/export-clinic.ts';
import { stepObservation } from '../../src/export/fhir-observations.ts';
import { sceneOf } from '../../src/export/fhir-parts.ts';
import { recordFacts } from '../../src/export/record-facts.ts';
import type { Catalogue } from '../../src/words/catalogue.ts';
import { speak } from '../../src/words/language.ts';
import { Chair } from '../engine/chair.ts';
import { ETCH_ROUND, settingOf } from '../engine/fixture.ts';
import { sourceOf } from '../export/journals.ts';
import { textOf } from '../plan/documents.ts';

const TWO = 'demo-data/cases/two-veneers.json';
const SLIPS = 'demo-data/scripts/two-veneers-with-slips.json';

/** A language in which every text is one sign, however deep it stands. */
const mute: object = new Proxy(() => '¤', {
  get: (target, name) =>
    name === Symbol.toPrimitive || name === 'toString'
      ? () => '¤'
      : Reflect.has(target, name)
        ? Reflect.get(target, name)
        : mute,
});

async function ran(...args: readonly string[]): Promise<string> {
  let out = '';
  await main(args, {
    readFile: async (path) => (path.startsWith('/') ? readFileSync(path, 'utf8') : textOf(path)),
    stdout: (text) => {
      out += text;
    },
    stderr: () => undefined,
  });
  return out;
}

describe('in another language', () => {
  beforeEach(() => {
    speak('x-mute', {
      terminal: mute,
      terminalPlan: mute,
      fhir: mute,
    } as unknown as Catalogue);
  });

  afterEach(() => {
    speak('en', null);
  });

  it('a plan has no English of its own', async () => {
    const out = await ran('plan', TWO);
    const english =
      /chair time|middle case|^(mixes|rounds|light|windows|other ways|how)\b.*:|to spare|too long|risk\b|planned\)|longer|shorter|(one|two) mix|seated \d|unit \d+:|decided by|is longer/m;
    expect(out.match(english)?.[0] ?? null).toBeNull();
  });

  it('a rehearsal has no English headings', async () => {
    const out = await ran('rehearse', TWO, SLIPS);
    const english =
      /presses:|^events|^cues|^progress|^agenda|^limits|finished at|to come\)|\d+ of \d+, (done|open)/m;
    expect(out.match(english)?.[0] ?? null).toBeNull();
  });

  it('the text of an observation has no English', () => {
    const { log } = new Chair(settingOf(ETCH_ROUND, ['11', '21'])).rows(`
      at 0 s   confirm ready case
      at 1 s   skip etch 11 because dentine only
      at 2 s   start etch 21
      at 22 s  end etch 21
    `);
    const facts = recordFacts(sourceOf(log));
    const told = facts.steps
      .filter((step) => step.step === 'etch')
      .map((step) => {
        const links = { id: 'x', partOf: {}, device: null };
        const { text, note, dataAbsentReason } = stepObservation(
          sceneOf(facts, NO_CLINIC),
          step,
          links,
        );
        return JSON.stringify({ text, note, dataAbsentReason });
      });
    expect(told).toHaveLength(2);
    for (const text of told) expect(text).not.toMatch(/elapsed|Skipped|no time|Not timed/);
  });
});
