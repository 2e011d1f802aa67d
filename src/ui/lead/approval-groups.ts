/** The numbers that wait for a document, by the materials that their steps use. */
import { type PlacedFigure, type Spot, unconfirmedFigures } from '../../protocol/edit-types.ts';
import type { MaterialSlot, Protocol, Step } from '../../protocol/types.ts';
import { basisWords } from '../../words/basis-words.ts';
import { editorWords } from '../../words/editor-words.ts';
import { figureLabel } from '../../words/figure-words.ts';
import { shownValue } from './editor/editor-model.ts';

/** Numbers that one document can hold: no group goes across materials. */
export interface FigureGroup {
  readonly key: string;
  readonly title: string;
  /** The generic classes, as the document has them. */
  readonly classes: string;
  readonly figures: readonly PlacedFigure[];
}

export const spotId = ({ part, id, key }: Spot): string => `${part} ${id} ${key}`;

/** What a tick is about: the number as it was read. Another value, title or basis was not. */
export const tickId = (placed: PlacedFigure): string => JSON.stringify(placed);

/** The same for all of a group. */
export const groupTickId = (group: FigureGroup): string => JSON.stringify(group);

/** "Etch: target 30 s" */
export function figureName({ title, spot, figure }: PlacedFigure): string {
  return editorWords.confirm.number({
    title,
    label: figureLabel(spot.key),
    shown: shownValue(spot.key, figure.value),
  });
}

/** The document behind a number, with the words that were quoted from it. */
export function readIn({ sources }: Protocol, { figure }: PlacedFigure): string {
  const { basis } = figure;
  const { line } = basisWords(basis, sources);
  const quote = basis.kind === 'instructions' ? basis.asWritten : undefined;
  return quote === undefined ? line : editorWords.confirm.quoted({ line, quote });
}

/** The steps that a number belongs to: for a window, what opens it, else what closes it. */
function stepsOf(protocol: Protocol, { part, id }: Spot): readonly Step[] {
  const step = (wanted: string) => protocol.steps.filter((each) => each.id === wanted);
  if (part === 'steps') return step(id);
  const window = protocol.windows.find((each) => each.id === id);
  return window === undefined ? [] : [...step(window.from.step), ...step(window.to.step)];
}

function slotsOf(protocol: Protocol, spot: Spot): readonly MaterialSlot[] {
  const uses = stepsOf(protocol, spot).map((step) => step.uses ?? []);
  const own = new Set(uses.find((ids) => ids.length > 0) ?? []);
  return protocol.slots.filter(({ id }) => own.has(id));
}

function groupOf(protocol: Protocol, spot: Spot): Omit<FigureGroup, 'figures'> {
  const slots = slotsOf(protocol, spot);
  if (slots.length > 0) {
    return {
      key: slots.map(({ id }) => id).join(' '),
      title: editorWords.confirm.materials(slots.map(({ label }) => label)),
      classes: editorWords.confirm.materials([...new Set(slots.map((s) => s.materialClass))]),
    };
  }
  const [owner] = stepsOf(protocol, spot);
  const isLight = owner?.usesLight === true || owner?.action.kind === 'expose';
  const title = isLight ? editorWords.confirm.light : editorWords.confirm.noMaterial;
  return { key: isLight ? 'light' : '', title, classes: '' };
}

/** In the order in which the protocol first comes to them. */
export function figureGroupsOf(
  protocol: Protocol,
  of: readonly PlacedFigure[],
): readonly FigureGroup[] {
  const groups = new Map<string, FigureGroup>();
  for (const placed of of) {
    const group = groupOf(protocol, placed.spot);
    const figures = [...(groups.get(group.key)?.figures ?? []), placed];
    groups.set(group.key, { ...group, figures });
  }
  return [...groups.values()];
}

/** Those that no document stands behind yet. */
export const figureGroups = (protocol: Protocol): readonly FigureGroup[] =>
  figureGroupsOf(protocol, unconfirmedFigures(protocol));
