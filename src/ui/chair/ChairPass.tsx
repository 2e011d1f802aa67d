import type { RunningCase } from '../../runtime/app-state.ts';
import { passTexts } from '../../words/pass-words.ts';
import { StateMark } from '../parts/StateMark.tsx';
import { SoundTest } from '../shared/SoundTest.tsx';
import { useSession, useTablet } from '../shared/session-context.ts';
import { isPassAsked, isSilent, type PassRow, passRows } from './pass-model.ts';
import './chair-pass.css';

interface Props {
  readonly running: RunningCase;
}

/** Beside the clock: the places of the pass that is under way, or why light is pressed place by place. */
export function ChairPass({ running }: Props) {
  if (isSilent(running)) {
    return (
      <div className="chair-pass-silent">
        <p>{passTexts.silent}</p>
        <SoundTest rank="quiet" />
      </div>
    );
  }
  return isPassAsked(running) ? null : <PassPlaces running={running} />;
}

/** In the middle, once tones have led over the places: what was lit is confirmed, the rest unticked. */
export function PassAsked({ running }: Props) {
  const hasTicks = passRows(running).some(({ isTicked }) => isTicked !== null);
  return (
    <div className="chair-pass-asked">
      {hasTicks && !running.isViewOnly && <p className="chair-pass-todo">{passTexts.todo}</p>}
      <PassPlaces running={running} />
    </div>
  );
}

function PassPlaces({ running }: Props) {
  const rows = passRows(running);
  if (rows.length === 0) return null;
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a list that scrolls must take the focus.
    <ul className="chair-pass" aria-label={passTexts.title} tabIndex={0}>
      {rows.map((row) => (
        <li key={row.id} data-state={row.state} data-ticked={row.isTicked}>
          <Place row={row} running={running} />
        </li>
      ))}
    </ul>
  );
}

function Place({ row, running }: Props & { readonly row: PassRow }) {
  const session = useSession();
  const tablet = useTablet();
  const told = (
    <>
      <StateMark shape={row.shape} />
      <span className="chair-pass-name">{row.name}</span>
      <span>{row.seconds}</span>
      <span className="chair-pass-state">{row.words}</span>
    </>
  );
  if (row.isTicked === null) return <div className="chair-pass-place">{told}</div>;
  return (
    <button
      type="button"
      className="chair-pass-place"
      aria-pressed={row.isTicked}
      disabled={running.isViewOnly}
      onClick={() => {
        if (tablet.door.accepts(`line ${row.id}`)) session.turnPlace(row.id);
      }}
    >
      {told}
    </button>
  );
}
