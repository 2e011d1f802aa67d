/** Every kind of event that a journal can hold is told by the record, where the table says so. */
import { describe, expect, it } from 'vitest';
import type { CaseEvent } from '../../src/engine/types.ts';
import { EVENT_TOLD_IN, recordFacts } from '../../src/export/record-facts.ts';
import type { Chair } from '../engine/chair.ts';
import { follow } from '../engine/walks.ts';
import { eventful, followed, sourceOf } from './journals.ts';
import { pressedWhole } from './pressed-journals.ts';

/** What only this kind of event leaves in its part of the record. */
const TRACES: Readonly<Record<CaseEvent['type'], string>> = {
  'case-opened': '2026-11-27T09:00:00',
  'step-confirmed': '"key":"ready@case"',
  'step-started': '"key":"etch@tooth:11"',
  'step-ended': '"key":"etch@tooth:11"',
  'coat-applied': '"key":"coats@tooth:11"',
  'pass-made': '"key":"strips@contact',
  'option-chosen': '"option":"accepted"',
  'exposure-started': '"onAt":{',
  'exposure-stopped': '"off":{',
  'light-pass-begun': '"kind":"begun"',
  'light-pass-stopped': '"kind":"stopped"',
  'light-pass-confirmed': '"state":"confirmed"',
  'tones-heard': '"heard":true',
  'step-skipped': '"reason":"not wanted"',
  'way-back-taken': 'of it',
  'mix-added': '"kind":"mix-added"',
  'plan-changed': '"kind":"plan-changed"',
  'bead-probed': '"found":"soft"',
  'material-named': '"lot":"42A"',
  'shade-tried': '"judgedBy":"patient"',
  'emergency-noted': '"card":"choking"',
  'anaesthesia-given': '"agent":"articaine-200"',
  'gap-found': '"cause":"asleep-or-moved"',
  'gap-settled': '"kind":"gap-settled"',
  'press-retimed': '"kind":"moved"',
  'press-retracted': '"kind":"taken-back"',
  'cue-acknowledged': '"cue":"seen"',
  'note-added': 'the lid was shut',
  'numbering-changed': '"notation":"universal"',
  'visit-stopped': '"reason":"the patient is unwell"',
  'role-taken': '"role":"assistant"',
  'pen-given': '"toName":"Chair 2"',
  'pen-taken': '"fromName":"Chair 1"',
  'case-closed': '"by":"dentist-a"',
};

function withEverything(): Chair {
  const chair = eventful();
  const { plan } = chair.log.state;
  chair.do({ do: 'add-mix', units: ['22'], reason: 'the first one was late' });
  chair.do({ do: 'change-plan', plan: { ...chair.log.state.plan }, reason: 'as agreed' });
  chair.do({ do: 'acknowledge', cue: 'seen' });
  chair.do({ do: 'probe-bead', mix: `mix:${plan.mixes.length}`, found: 'soft' });
  const trial = { subject: 'case', paste: 'light 2', judgedBy: 'patient' };
  chair.do({ do: 'try-shade', trial: { ...trial, result: 'accepted' } });
  chair.do({ do: 'note-emergency', note: { card: 'choking', act: 'opened' } });
  const given = { agent: 'articaine-200', technique: 'upper-infiltration', teeth: ['11'] };
  chair.do({ do: 'give-anaesthesia', given });
  const before = chair.stamp;
  chair.rows('sleep 60 s');
  chair.do({ do: 'note-gap', before, after: chair.stamp, cause: 'asleep-or-moved' }, null);
  chair.do({ do: 'skip', step: 'polish', subjects: ['case'], reason: 'not wanted' });
  chair.do({ do: 'change-numbering', notation: 'universal' });
  const [here, there] = [
    { tablet: 'a', name: 'Chair 1' },
    { tablet: 'b', name: 'Chair 2' },
  ];
  chair.do({ do: 'give-pen', ...here, to: there.tablet, toName: there.name });
  chair.do({ do: 'take-pen', ...there, fromName: here.name, isHeard: true });
  follow(chair, 500);
  chair.rows('sign-off dentist-a');
  return chair;
}

describe('a record', () => {
  const whole = withEverything();
  // The small protocol of these tests has no place for a material.
  const named = followed('two-veneers', 1);
  const stopped = followed('two-veneers', 1);
  stopped.do({ do: 'stop-visit', reason: 'the patient is unwell' });
  // Nor is its light paced.
  const paced = pressedWhole();
  const logs: Partial<Record<CaseEvent['type'], Chair>> = {
    'material-named': named,
    'visit-stopped': stopped,
    'light-pass-begun': paced,
    'light-pass-stopped': paced,
    'light-pass-confirmed': paced,
    'tones-heard': paced,
  };

  it.each(Object.entries(TRACES))('tells of %s', (name, trace) => {
    const type = name as CaseEvent['type'];
    const { log } = logs[type] ?? whole;
    expect(log.records.map((r) => r.event.type)).toContain(type);
    const facts = recordFacts(sourceOf(log));
    expect(JSON.stringify(facts[EVENT_TOLD_IN[type]])).toContain(trace);
  });
});
