import { type CSSProperties, type KeyboardEvent, type RefObject, useRef, useState } from 'react';
import './arch-picker.css';
import { partWords } from '../../words/part-words.ts';
import { Crown } from './Crown.tsx';
import { arcDrop, type Jaw, jawTeeth, toothPlace } from './tooth-order.ts';

interface ArchPickerProps {
  /** Name of the whole picture: "Teeth of this case". */
  readonly label: string;
  /** Designations of ISO 3950 that are chosen. */
  readonly selected: readonly string[];
  readonly onToggle: (id: string) => void;
  /** The designation in the notation of the person. */
  readonly labelOf: (id: string) => string;
  /** The full name for screen readers: "upper right lateral incisor". */
  readonly nameOf?: ((id: string) => string) | undefined;
  /** Teeth that a bridge replaces: belong to the choice, but nothing is bonded there. */
  readonly pontics?: readonly string[] | undefined;
  /** Teeth of one piece, each list from the left of the picture to its right. */
  readonly joined?: readonly (readonly string[])[] | undefined;
  /** Teeth that cannot be chosen, such as missing ones. */
  readonly disabledIds?: readonly string[] | undefined;
}

const ROWS: readonly { readonly jaw: Jaw; readonly teeth: readonly string[] }[] = [
  { jaw: 'upper', teeth: jawTeeth('upper') },
  { jaw: 'lower', teeth: jawTeeth('lower') },
];
const HALF = 8;
const FIRST_TOOTH = '11';

/** The tooth that an arrow key leads to; undefined for other keys and at the ends. */
function neighbourTooth(id: string, key: string): string | undefined {
  const row = ROWS.findIndex((entry) => entry.teeth.includes(id));
  const teeth = ROWS[row]?.teeth ?? [];
  const at = teeth.indexOf(id);
  switch (key) {
    case 'ArrowLeft':
      return teeth[at - 1];
    case 'ArrowRight':
      return teeth[at + 1];
    case 'ArrowUp':
      return ROWS[row - 1]?.teeth[at];
    case 'ArrowDown':
      return ROWS[row + 1]?.teeth[at];
    case 'Home':
      return teeth[0];
    case 'End':
      return teeth.at(-1);
    default:
      return undefined;
  }
}

/** Whether the tooth to its right in the picture belongs to the same piece. */
function isJoined(
  picker: ArchPickerProps,
  { id, jaw }: { readonly id: string; readonly jaw: Jaw },
): boolean {
  const row = jawTeeth(jaw);
  const next = row[row.indexOf(id) + 1] ?? '';
  return picker.joined?.some((piece) => piece.includes(id) && piece.includes(next)) === true;
}

function PickTooth(props: {
  readonly id: string;
  readonly jaw: Jaw;
  readonly inTabOrder: boolean;
  readonly picker: ArchPickerProps;
}) {
  const { id, jaw, picker } = props;
  const place = toothPlace(id);
  if (place === undefined) return null;
  const isPontic = picker.pontics?.includes(id) === true;
  const chosen = isPontic || picker.selected.includes(id);
  const label = picker.labelOf(id);
  const name = picker.nameOf?.(id);
  const drop = jaw === 'upper' ? arcDrop(place) : 1 - arcDrop(place);
  return (
    <button
      type="button"
      className="lw-pick"
      data-tooth={id}
      data-jaw={jaw}
      aria-pressed={chosen}
      data-pontic={isPontic}
      data-joined={isJoined(picker, { id, jaw })}
      aria-label={partWords.pickTooth({ label, name, isPontic })}
      disabled={picker.disabledIds?.includes(id) === true}
      tabIndex={props.inTabOrder ? 0 : -1}
      style={{ '--drop': drop.toFixed(3) } as CSSProperties}
      onClick={() => picker.onToggle(id)}
    >
      <span className="lw-pick-label">{label}</span>
      <Crown place={place} state={chosen && !isPontic ? 'done' : 'waiting'} />
      {isPontic && <span className="lw-pick-note">{partWords.pontic}</span>}
    </button>
  );
}

function focusTooth(root: RefObject<HTMLDivElement | null>, id: string): boolean {
  const button = root.current?.querySelector<HTMLButtonElement>(`[data-tooth="${id}"]`);
  if (button === null || button === undefined || button.disabled) return false;
  button.focus();
  return true;
}

/** All 32 teeth as seen from the front, as toggle buttons; arrow keys walk along the arch. */
export function ArchPicker(props: ArchPickerProps) {
  const root = useRef<HTMLDivElement>(null);
  const [current, setCurrent] = useState(props.selected[0] ?? FIRST_TOOTH);
  const walk = (event: KeyboardEvent<HTMLDivElement>): void => {
    const next = neighbourTooth(current, event.key);
    if (next === undefined) return;
    event.preventDefault();
    if (focusTooth(root, next)) setCurrent(next);
  };
  return (
    // biome-ignore lint/a11y/useSemanticElements: a fieldset would announce a form.
    <div
      ref={root}
      className="lw-picker"
      role="group"
      aria-label={props.label}
      onKeyDown={walk}
      onFocus={(event) => {
        const id = event.target.getAttribute('data-tooth');
        if (id !== null) setCurrent(id);
      }}
    >
      {ROWS.map(({ jaw, teeth }) => (
        // biome-ignore lint/a11y/useSemanticElements: a fieldset would announce a form.
        <div
          key={jaw}
          className="lw-picker-jaw"
          role="group"
          aria-label={jaw === 'upper' ? partWords.upperArch : partWords.lowerArch}
        >
          {[teeth.slice(0, HALF), teeth.slice(HALF)].map((half) => (
            <div key={half[0]} className="lw-picker-half">
              {half.map((id) => (
                <PickTooth key={id} id={id} jaw={jaw} inTabOrder={id === current} picker={props} />
              ))}
            </div>
          ))}
        </div>
      ))}
      <p className="lw-picker-sides" aria-hidden="true">
        <span>{partWords.patientRight}</span>
        <span className="lw-picker-help">{partWords.pickHelp}</span>
        <span>{partWords.patientLeft}</span>
      </p>
    </div>
  );
}
