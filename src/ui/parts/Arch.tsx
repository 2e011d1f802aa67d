import type { CSSProperties } from 'react';
import './arch.css';
import type { ToothState } from '../../words/codes.ts';
import { partWords } from '../../words/part-words.ts';
import { SURFACE_WORDS } from '../../words/subject-words.ts';
import { Crown, type CrownSurface } from './Crown.tsx';
import { crownZone } from './crown-shapes.ts';
import { Gauge, type GaugeProps } from './Gauge.tsx';
import { arcDrop, inPictureOrder, type Jaw, type ToothPlace, toothPlace } from './tooth-order.ts';

export interface ArchTooth {
  /** Designation of ISO 3950, which gives the place and the shape. */
  readonly id: string;
  /** The same tooth in the notation of the person. */
  readonly label: string;
  /** One or two words for where it is: "etching", "rinsed", "6 s over". */
  readonly word: string;
  readonly state: ToothState;
  /** How much of its present step is done, 0 to 1. */
  readonly progress: number;
  readonly active: boolean;
  readonly gauge?: Omit<GaugeProps, 'size' | 'orientation' | 'decorative'> | undefined;
  readonly surfaces?: readonly CrownSurface[] | undefined;
}

interface ArchProps {
  readonly teeth: readonly ArchTooth[];
  readonly onSelect?: ((id: string) => void) | undefined;
  /** Hides "patient's right" and "patient's left" where room is short. */
  readonly hideSides?: boolean | undefined;
}

const FALLBACK_PLACE: ToothPlace = {
  jaw: 'upper',
  side: 'left',
  fromMidline: 1,
  form: 'central',
};
const ACTIVE_SHARE = 2.1;
const SPLIT_ABOVE = 8;
const SPLIT_ON_PHONE_ABOVE = 5;

/** Which screens are too narrow for one row of so many teeth. */
function splitOf(count: number): 'narrow' | 'phone' | 'never' {
  if (count > SPLIT_ABOVE) return 'narrow';
  return count > SPLIT_ON_PHONE_ABOVE ? 'phone' : 'never';
}

function toothName(tooth: ArchTooth): string {
  const surfaces = tooth.surfaces ?? [];
  if (surfaces.length === 0) return partWords.toothName(tooth);
  const given = surfaces.filter((surface) => surface.state === 'done').length;
  return partWords.toothNameWithSurfaces({
    label: tooth.label,
    word: tooth.word,
    given,
    surfaces: surfaces.length,
  });
}

/** Surfaces that the outline has no place for stand under it, so that none is left out. */
function OtherSurfaces({ surfaces }: { readonly surfaces: readonly CrownSurface[] }) {
  const others = surfaces.filter((surface) => crownZone(surface.id) === undefined);
  if (others.length === 0) return null;
  return (
    <span className="lw-tooth-others">
      {others.map((surface) => (
        <span key={surface.id} data-state={surface.state}>
          {SURFACE_WORDS[surface.id]}
        </span>
      ))}
    </span>
  );
}

function ToothPicture(props: { readonly tooth: ArchTooth; readonly place: ToothPlace }) {
  const { tooth, place } = props;
  return (
    <>
      <span className="lw-tooth-label">{tooth.label}</span>
      <span className="lw-tooth-picture">
        <Crown
          place={place}
          state={tooth.state}
          progress={tooth.progress}
          surfaces={tooth.surfaces}
        />
        {tooth.gauge !== undefined && (
          <Gauge {...tooth.gauge} size={tooth.active ? 'small' : 'stroke'} decorative />
        )}
      </span>
      <OtherSurfaces surfaces={tooth.surfaces ?? []} />
      <span className="lw-tooth-word">{tooth.word}</span>
    </>
  );
}

function Tooth(props: {
  readonly tooth: ArchTooth;
  readonly drop: number;
  readonly onSelect: ((id: string) => void) | undefined;
}) {
  const { tooth, drop, onSelect } = props;
  const place = toothPlace(tooth.id) ?? FALLBACK_PLACE;
  const style = {
    '--drop': drop.toFixed(3),
    '--share': tooth.active ? ACTIVE_SHARE : 1,
  } as CSSProperties;
  const picture = <ToothPicture tooth={tooth} place={place} />;
  const name = toothName(tooth);
  return (
    <li
      className="lw-tooth"
      style={style}
      data-state={tooth.state}
      data-active={tooth.active}
      data-gauge={tooth.gauge !== undefined}
    >
      {onSelect === undefined ? (
        <div
          className="lw-tooth-body"
          role="img"
          aria-label={name}
          aria-current={tooth.active ? 'step' : undefined}
        >
          {picture}
        </div>
      ) : (
        <button
          type="button"
          className="lw-tooth-body"
          aria-label={name}
          aria-current={tooth.active ? 'step' : undefined}
          onClick={() => onSelect(tooth.id)}
        >
          {picture}
        </button>
      )}
    </li>
  );
}

function isOnRight(tooth: ArchTooth): boolean {
  return (toothPlace(tooth.id) ?? FALLBACK_PLACE).side === 'right';
}

function JawRow(props: {
  readonly jaw: Jaw;
  readonly teeth: readonly ArchTooth[];
  readonly onSelect: ((id: string) => void) | undefined;
}) {
  const { jaw, teeth, onSelect } = props;
  if (teeth.length === 0) return null;
  const drops = teeth.map((tooth) => arcDrop(toothPlace(tooth.id) ?? FALLBACK_PLACE));
  const least = Math.min(...drops);
  const most = Math.max(...drops);
  const dropOf = (index: number): number => {
    const own = drops[index] ?? least;
    return jaw === 'upper' ? own - least : most - own;
  };
  const halves = [
    { side: 'right', members: teeth.filter(isOnRight) },
    { side: 'left', members: teeth.filter((tooth) => !isOnRight(tooth)) },
  ].filter((half) => half.members.length > 0);
  return (
    // biome-ignore lint/a11y/useSemanticElements: a fieldset would announce a form.
    <div
      className="lw-jaw"
      role="group"
      aria-label={jaw === 'upper' ? partWords.upperArch : partWords.lowerArch}
      data-jaw={jaw}
      data-split={splitOf(teeth.length)}
    >
      {halves.map((half) => {
        const share = half.members.reduce((sum, t) => sum + (t.active ? ACTIVE_SHARE : 1), 0);
        return (
          <ul key={half.side} className="lw-quadrant" style={{ '--share': share } as CSSProperties}>
            {half.members.map((tooth) => (
              <Tooth
                key={tooth.id}
                tooth={tooth}
                drop={dropOf(teeth.indexOf(tooth))}
                onSelect={onSelect}
              />
            ))}
          </ul>
        );
      })}
    </div>
  );
}

/** The teeth of the case along their arch as seen from the front. The tooth acted on is big. */
export function Arch(props: ArchProps) {
  return (
    <div className="lw-arch">
      <JawRow jaw="upper" teeth={inPictureOrder(props.teeth, 'upper')} onSelect={props.onSelect} />
      <JawRow jaw="lower" teeth={inPictureOrder(props.teeth, 'lower')} onSelect={props.onSelect} />
      {props.hideSides !== true && (
        <p className="lw-arch-sides" aria-hidden="true">
          <span>{partWords.patientRight}</span>
          <span>{partWords.patientLeft}</span>
        </p>
      )}
    </div>
  );
}
