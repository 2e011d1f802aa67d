/** Who hears the tones of a pass, as the case is told; and what is sounded and said of a pass. */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { createStore } from 'zustand/vanilla';
import type { Command } from '../../src/engine/commands.ts';
import { parseProtocolText } from '../../src/protocol/parse-text.ts';
import { DEFAULT_SETTINGS, type RunningCase } from '../../src/runtime/app-state.ts';
import type { SoundStatus } from '../../src/runtime/sound/audio.ts';
import { passTones } from '../../src/runtime/sound/follow-sounds.ts';
import { followTones } from '../../src/runtime/sound/follow-tones.ts';
import type { AppStore } from '../../src/runtime/store.ts';
import { Chair } from '../engine/chair.ts';
import { confirm, expose, protocolOf, settingOf, step } from '../engine/fixture.ts';
import { PACED, press } from '../engine/light-pass.ts';

const protocol = protocolOf([
  step('signals', 'case', {
    kind: 'confirm',
    evidence: {
      kind: 'choice',
      options: [
        { id: 'sound-only', label: 'Sound heard, no pedal' },
        { id: 'screen-only', label: 'Screen only today' },
      ],
    },
  }),
  step('seat', 'unit', confirm, { after: ['signals'] }),
  step('expose', 'unit', expose({ surfaces: ['facial'], seconds: 10 }), {
    after: ['seat'],
    pressed: PACED,
  }),
]);

interface Told {
  readonly sound?: SoundStatus;
  readonly speed?: 1 | 10 | 60;
  readonly isViewOnly?: boolean;
  readonly settings?: Partial<typeof DEFAULT_SETTINGS>;
}

function room() {
  const chair = new Chair(settingOf(protocol, ['11', '22'], { restMs: {} }));
  let told: Told = { sound: { state: 'on' } };
  const said: string[] = [];
  const noted: Command[] = [];
  const picture = (): RunningCase =>
    ({
      caseId: 'case-1',
      log: chair.log,
      view: chair.view,
      now: chair.stamp,
      speed: told.speed ?? 1,
      isViewOnly: told.isViewOnly ?? false,
    }) as unknown as RunningCase;
  const state = () => ({
    running: picture(),
    settings: { ...DEFAULT_SETTINGS, spoken: true, ...told.settings },
    tablet: { sound: told.sound },
  });
  const store = createStore(state) as unknown as AppStore;
  const publish = (more: Told = {}) => {
    told = { ...told, ...more };
    store.setState(state() as never);
  };
  const tones = followTones({
    store,
    do: (command) => {
      noted.push(command);
      chair.do(command, null);
      publish();
    },
    wallNowMs: () => chair.stamp.wallMs,
    sinceMs: chair.stamp.wallMs - 60_000,
    speech: {
      speak: (words) => said.push(words),
      hush: () => said.push('(hushed)'),
      setVolume: () => undefined,
    },
  });
  const signals = (evidence: string) => {
    const offer = { kind: 'confirm', step: 'signals', subjects: ['case'] } as const;
    expect(chair.do({ do: 'press', offer, evidence })).toBeNull();
    publish();
  };
  const heard = () => chair.log.state.tonesHeard;
  return { chair, publish, signals, heard, said, noted, tones };
}

const soundTest = (chair: Chair) => ({
  heardAtMs: chair.stamp.wallMs,
  heardBy: 'assistant',
  heardVolume: DEFAULT_SETTINGS.volume,
});

describe('the case is told that the tones are heard', () => {
  test('once somebody has said so at the step that asks, and not before', () => {
    const { signals, heard, noted } = room();
    expect([heard(), noted]).toEqual([false, []]);
    signals('Sound heard, no pedal');
    expect(heard()).toBe(true);
    expect(noted).toEqual([{ do: 'note-tones', heard: true }]);
  });

  test('once somebody has heard the test sound in this session', () => {
    const { chair, publish, heard } = room();
    const old = { ...soundTest(chair), heardAtMs: chair.stamp.wallMs - 24 * 3_600_000 };
    publish({ settings: old });
    expect(heard()).toBe(false);
    publish({ settings: soundTest(chair) });
    expect(heard()).toBe(true);
  });

  test('not by whoever chose the screen only, and no longer once nobody hears the test sound', () => {
    const { chair, publish, signals, heard } = room();
    signals('Screen only today');
    expect(heard()).toBe(false);
    chair.at(1000);
    publish({ settings: soundTest(chair) });
    expect(heard()).toBe(true);
    chair.at(2000);
    publish({ settings: { heardAtMs: null, heardBy: '' } });
    expect(heard()).toBe(false);
  });

  test('no longer when the press that said so is taken back', () => {
    const { chair, publish, signals, heard } = room();
    signals('Sound heard, no pedal');
    chair.rows('undo');
    publish();
    expect(heard()).toBe(false);
  });

  test.each<[string, Told]>([
    ['muted', { sound: { state: 'muted' } }],
    ['switched off', { sound: { state: 'off', reason: 'stalled' } }],
    ['interrupted', { sound: { state: 'interrupted' } }],
    [
      'waiting for a touch, as after a reload',
      { sound: { state: 'locked', reason: 'needs-touch' } },
    ],
    ['too fast a rehearsal', { speed: 60 }],
  ])('not while sound is %s, and again once it is back', (_, told) => {
    const { publish, signals, heard } = room();
    signals('Sound heard, no pedal');
    publish(told);
    expect(heard()).toBe(false);
    publish({ sound: { state: 'on' }, speed: 1 });
    expect(heard()).toBe(true);
  });

  test('not when the sound was turned down since the test', () => {
    const { chair, publish, heard } = room();
    publish({ settings: soundTest(chair) });
    publish({ settings: { ...soundTest(chair), volume: 0.2 } });
    expect(heard()).toBe(false);
  });

  test('by the window that runs it alone', () => {
    const { publish, signals, noted } = room();
    publish({ isViewOnly: true });
    signals('Sound heard, no pedal');
    expect(noted).toEqual([]);
  });

  test('by one of the answers of every shipped protocol that paces light', () => {
    const folder = new URL('../../shared/protocols/', import.meta.url);
    for (const file of readdirSync(folder)) {
      const parsed = parseProtocolText(readFileSync(new URL(file, folder), 'utf8'));
      if (!parsed.ok || !parsed.value.steps.some((s) => s.pressed?.kind === 'paced')) continue;
      const asks = parsed.value.steps.flatMap(({ action }) =>
        action.kind === 'confirm' && action.evidence?.kind === 'choice'
          ? action.evidence.options.map(({ id }) => id)
          : [],
      );
      expect(asks, file).toContain('sound-and-pedal');
      expect(asks, file).toContain('sound-only');
    }
  });
});

describe('a pass of light', () => {
  function led() {
    const all = room();
    all.signals('Sound heard, no pedal');
    all.chair.rows('confirm seat 11').rows('confirm seat 22');
    press(all.chair, 'pass-begin');
    all.publish();
    const running = () => ({ view: all.chair.view, log: all.chair.log, now: all.chair.stamp });
    const sounds = () =>
      passTones(running()).map(({ at, kind, dueInMs }) => `${at} ${kind} ${dueInMs}`);
    return { ...all, running, sounds };
  }

  test('has its tones where its clocks turn over', () => {
    const { chair, sounds } = led();
    expect(sounds()).toEqual([
      'start now 0',
      'end nearing 10000',
      'start now 13000',
      'end now 23000',
    ]);
    chair.at(8000);
    expect(sounds()).toContain('end nearing 2000');
    const { elapsed, targetMs } = chair.view.attention.own ?? {};
    expect((targetMs ?? 0) - (elapsed?.loMs ?? 0)).toBe(2000);
  });

  test('says where the light goes, and at the end what is to be done', () => {
    const { running, tones, said } = led();
    for (const { id } of passTones(running())) tones.sounded(id);
    expect(said).toEqual(['Change over. 22, facial', 'Pass finished. Confirm what was lit.']);
  });

  test('is silent once the light was stopped, and breaks off what is being said', () => {
    const { chair, publish, sounds, said } = led();
    chair.at(10_500);
    publish();
    press(chair, 'pass-stop');
    publish();
    expect(sounds()).toEqual([]);
    expect(said).toEqual(['(hushed)']);
  });

  test('lets its last words be said', () => {
    const { chair, publish, said } = led();
    chair.at(23_000);
    publish();
    press(chair, 'pass-confirm');
    publish();
    expect(said).toEqual([]);
  });

  test('does not sound in a page that was opened since', () => {
    const { chair, sounds } = led();
    chair.at(5000).rows('reload 1 s');
    expect(sounds()).toEqual([]);
  });
});
