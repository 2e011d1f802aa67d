import { Arch, type ArchTooth } from '../parts/Arch.tsx';
import { ChairClock } from '../parts/ChairClock.tsx';
import { CueCard, CueStack } from '../parts/CueCard.tsx';
import { PressBar } from '../parts/PressBar.tsx';
import { StatusRail } from '../parts/StatusRail.tsx';
import { NextLine, PersonTag, StepHeading } from '../parts/StepHeading.tsx';
import { UndoEnd } from '../parts/UndoEnd.tsx';
import { type RunningClock, WindowList } from '../parts/WindowList.tsx';

const nothing = (): void => undefined;
const exact = (elapsedMs: number) => ({ elapsedLoMs: elapsedMs, elapsedHiMs: elapsedMs });

const etch = (elapsedMs: number) => ({
  kind: 'dwell' as const,
  ...exact(elapsedMs),
  floorMs: 15_000,
  targetMs: 20_000,
  rimMs: 30_000,
});

const surfaces = (states: readonly ('waiting' | 'running' | 'done' | 'short' | 'active')[]) =>
  ['facial', 'incisal', 'mesial', 'distal', 'lingual'].map((id, index) => ({
    id,
    state: states[index] ?? 'waiting',
  }));

const tooth = (id: string, rest: Partial<ArchTooth>): ArchTooth => ({
  id,
  label: id,
  word: 'waiting',
  state: 'waiting',
  progress: 0,
  active: false,
  ...rest,
});

/** A round of etching on eight teeth. */
export const etchingTeeth: readonly ArchTooth[] = [
  tooth('14', {}),
  tooth('13', { state: 'done', word: 'rinsed', progress: 1 }),
  tooth('12', { state: 'running', word: 'etch', progress: 0.7, active: true, gauge: etch(14_000) }),
  tooth('11', { state: 'running', word: 'etch', progress: 0.45, gauge: etch(9_000) }),
  tooth('21', { state: 'over', word: '6 s over', progress: 1, gauge: etch(36_000) }),
  tooth('22', {}),
  tooth('23', { state: 'skipped', word: 'skipped' }),
  tooth('24', { state: 'voided', word: 'void' }),
];

/** Exposure of every surface on six teeth. */
export const exposedTeeth: readonly ArchTooth[] = [
  tooth('13', {
    state: 'done',
    word: 'given',
    surfaces: surfaces(['done', 'done', 'done', 'done', 'done']),
  }),
  tooth('12', {
    state: 'short',
    word: '2 s short',
    surfaces: surfaces(['done', 'done', 'short', 'done', 'done']),
  }),
  tooth('11', {
    state: 'running',
    word: 'incisal',
    active: true,
    surfaces: surfaces(['done', 'running', 'done', 'active', 'waiting']),
    gauge: { kind: 'exposure', ...exact(6_000), targetMs: 10_000 },
  }),
  tooth('21', { surfaces: surfaces([]) }),
  tooth('22', { surfaces: surfaces([]) }),
  tooth('23', { surfaces: surfaces([]) }),
];

/** Both arches full, as many teeth as a case can have in one picture. */
export const fullArch: readonly ArchTooth[] = [
  ...['17', '16', '15', '14', '13', '12', '11', '21', '22', '23', '24', '25', '26', '27'].map(
    (id, index) =>
      tooth(id, {
        state: index < 6 ? 'done' : 'waiting',
        word: index < 6 ? 'primed' : 'waiting',
        ...(id === '11' ? { active: true, state: 'active', word: 'prime' } : {}),
      }),
  ),
  ...['43', '42', '41', '31', '32', '33'].map((id) => tooth(id, {})),
];

/** Clocks of all levels, one of them an interval. */
export const runningClocks: readonly RunningClock[] = [
  {
    id: 'shield',
    label: 'Light shield, units 12 to 22',
    level: 'calm',
    times: { kind: 'window', ...exact(250_000), rimMs: 1_800_000 },
  },
  {
    id: 'mix',
    label: 'Working time, mix 1',
    level: 'closing',
    times: { kind: 'window', ...exact(142_000), rimMs: 180_000 },
  },
  {
    id: 'wet',
    label: 'Wet surface 21',
    level: 'broken',
    times: { kind: 'window', ...exact(72_000), rimMs: 60_000 },
  },
  {
    id: 'bead',
    label: 'Age of the sample bead',
    level: 'calm',
    times: { kind: 'window', elapsedLoMs: 62_000, elapsedHiMs: 90_000, rimMs: 240_000 },
    reason: 'The tablet slept for 28 s',
  },
];

function Cues() {
  return (
    <CueStack>
      <CueCard
        kind="broken"
        words="Wet surface was left 12 s too long"
        subject="21"
        ageMs={12_000}
        onAcknowledge={nothing}
      />
      <CueCard kind="now" words="Rinse 13 now" subject="13" ageMs={2_000} onAcknowledge={nothing} />
    </CueStack>
  );
}

/** One moment in the chair, put together from the parts as a screen would. */
export function ChairExample(props: { readonly alarms: boolean }) {
  return (
    <main className="gallery-chair">
      <StatusRail saved screenHeld soundOn={!props.alarms} rehearsalSpeed={10} />
      <div className="gallery-chair-now">
        <StepHeading
          doing="Rinse"
          subject="12"
          detail="Etch on enamel, round 1 of 2"
          person={<PersonTag name="Iria" duty="assistant" />}
        />
        <ChairClock label="Etch on 12" {...etch(14_000)} />
      </div>
      <div className="gallery-chair-side">
        {props.alarms && <Cues />}
        <WindowList clocks={props.alarms ? runningClocks : runningClocks.slice(0, 2)} />
        <NextLine words="Rinse 11" when="in 11 s" />
      </div>
      <div className="gallery-chair-arch">
        <Arch teeth={etchingTeeth} onSelect={nothing} hideSides />
      </div>
      <div className="gallery-chair-bar">
        <PressBar
          words="Rinse 12"
          subWords="6 s early"
          urgency="early"
          onPress={nothing}
          undo={<UndoEnd what="Gel on 11" remainingMs={7_200} spanMs={10_000} onUndo={nothing} />}
        />
      </div>
    </main>
  );
}
