import { SOUND_PATTERNS, type SoundPattern } from '../../runtime/sound/sound-patterns.ts';
import { quickCardWords } from '../../words/quick-card-words.ts';
import { settingWords } from '../../words/setting-words.ts';
import { Gauge } from '../parts/Gauge.tsx';
import { PaperSheet } from '../shared/PaperSheet.tsx';
import { useApp } from '../shared/session-context.ts';
import './quick-card.css';

/** One sheet for beside the tablet: the bar, the keys, the sounds, what to do when it fails. */
export function QuickCard() {
  const { clinic } = useApp((s) => s.settings);
  return (
    <PaperSheet
      look="quick"
      title={quickCardWords.title}
      back={{ href: '/clinic', words: quickCardWords.back }}
      print={quickCardWords.print}
    >
      <header>
        <h1>{quickCardWords.title}</h1>
        <p>{footOf(clinic)}</p>
      </header>
      <div className="paper-columns">
        <Lines title={quickCardWords.bar} lines={quickCardWords.barLines} />
        <GaugePart />
        <Keys />
        <Lines title={quickCardWords.cautions} lines={settingWords.cautionLines} framed />
        <Sounds />
        <Lines title={quickCardWords.fails} lines={quickCardWords.failLines} ordered />
      </div>
    </PaperSheet>
  );
}

function footOf(clinic: string): string {
  const version = __APP_VERSION__;
  if (clinic === '') return quickCardWords.version(version);
  return quickCardWords.clinicAndVersion({ version, clinic });
}

function Lines(props: {
  readonly title: string;
  readonly lines: readonly string[];
  readonly ordered?: boolean;
  readonly framed?: boolean;
}) {
  const items = props.lines.map((line) => <li key={line}>{line}</li>);
  return (
    <section className="paper-part" data-framed={props.framed === true}>
      <h2>{props.title}</h2>
      {props.ordered === true ? <ol>{items}</ol> : <ul>{items}</ul>}
    </section>
  );
}

const RUNNING = {
  kind: 'dwell',
  elapsedLoMs: 13_000,
  elapsedHiMs: 13_000,
  floorMs: 15_000,
  targetMs: 20_000,
  rimMs: 30_000,
} as const;
const UNSURE = { ...RUNNING, elapsedLoMs: 8_000, elapsedHiMs: 18_000 } as const;
const OVER = { ...RUNNING, elapsedLoMs: 36_000, elapsedHiMs: 36_000 } as const;

/** The same drawing as in the chair: filling, uncertain, over. */
function GaugePart() {
  return (
    <section className="paper-part">
      <h2>{quickCardWords.gauge}</h2>
      <div className="quick-gauges">
        {[RUNNING, UNSURE, OVER].map((times) => (
          <Gauge key={times.elapsedHiMs} {...times} size="small" decorative />
        ))}
        <ul>
          {quickCardWords.gaugeLines.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      </div>
    </section>
  );
}

function Keys() {
  const { extraKeys } = useApp((s) => s.settings);
  return (
    <section className="paper-part">
      <h2>{quickCardWords.keys}</h2>
      <table>
        <thead>
          <tr>
            <th scope="col">{quickCardWords.keyHead}</th>
            <th scope="col">{quickCardWords.doesHead}</th>
          </tr>
        </thead>
        <tbody>
          {quickCardWords.keyRows.map((row) => (
            <tr key={row.keys}>
              <th scope="row">{row.keys}</th>
              <td>{row.does}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p>{quickCardWords.keyNote}</p>
      {extraKeys.length > 0 && <p>{quickCardWords.taught(extraKeys)}</p>}
    </section>
  );
}

const NOTE_MS_PER_UNIT = 25;
/** Lowest and highest of the few pitches, as steps above the lowest line. */
const PITCH_HZ_LOW = 500;
const PITCH_HZ_PER_UNIT = 30;

/** The pulses as they are heard: length across, pitch up. */
function Notes({ pulses }: Pick<SoundPattern, 'pulses'>) {
  const last = pulses.at(-1);
  const width = ((last?.startMs ?? 0) + (last?.durationMs ?? 0)) / NOTE_MS_PER_UNIT;
  return (
    <svg
      className="quick-notes"
      viewBox={`0 0 ${width} 14`}
      style={{ width: `${width}px` }}
      aria-hidden="true"
    >
      {pulses.map((pulse) => (
        <rect
          key={pulse.startMs}
          x={pulse.startMs / NOTE_MS_PER_UNIT}
          y={11 - (pulse.hz - PITCH_HZ_LOW) / PITCH_HZ_PER_UNIT}
          width={pulse.durationMs / NOTE_MS_PER_UNIT}
          height={3}
        />
      ))}
    </svg>
  );
}

function Sounds() {
  return (
    <section className="paper-part">
      <h2>{quickCardWords.sounds}</h2>
      <table>
        <thead>
          <tr>
            <th scope="col">{quickCardWords.soundHead}</th>
            <th scope="col">{quickCardWords.meaningHead}</th>
          </tr>
        </thead>
        <tbody>
          {SOUND_PATTERNS.toReversed().map(({ kind, pulses }) => (
            <tr key={kind}>
              <th scope="row">
                {quickCardWords.soundRows[kind].sound}
                <Notes pulses={pulses} />
              </th>
              <td>{quickCardWords.soundRows[kind].meaning}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p>{quickCardWords.soundNote}</p>
    </section>
  );
}
