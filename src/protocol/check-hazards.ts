/**
 * A caution where its hazard is: what a step puts on, or shines, has to be among the cautions of that
 * step. A step is known by its action, by the classes of the materials that it uses and by its class.
 * Whether a caution is about the hazard is read from its words, which can only be done in English; in
 * another language any caution of the step will do.
 */
import { caution, type Finding } from './finding.ts';
import type { Caution, Protocol, Step } from './types.ts';

interface Hazard {
  readonly name: 'hydrofluoric' | 'etching' | 'light' | 'resin' | 'dust' | 'alkaline';
  readonly isIn: (step: Step, classes: readonly string[]) => boolean;
  /** What a caution about it speaks of. */
  readonly words: RegExp;
}

const has = (classes: readonly string[], pattern: RegExp): boolean =>
  classes.some((name) => pattern.test(name));
const isOfClass = ({ rangeClass = '' }: Step, pattern: RegExp): boolean => pattern.test(rangeClass);
/** Put on and left there; a bottle that is taken out or read is closed. */
const isPutOn = ({ action }: Step): boolean => action.kind === 'dwell' || action.kind === 'coats';

/**
 * Hydrofluoric acid: calcium gluconate and pain that is felt late are taught by university procedures.
 * Phosphoric acid: H314 of its safety sheets. Light: J Occup Environ Hyg 2016;13:639. The rest is common
 * practice, no source.
 */
const HAZARDS: readonly Hazard[] = [
  {
    name: 'hydrofluoric',
    isIn: (step, classes) =>
      has(classes, /hydrofluoric/i) || isOfClass(step, /^(acid-|rinse-after-acid$)/),
    words: /hydrofluoric|\bHF\b/i,
  },
  {
    name: 'etching',
    isIn: (step, classes) =>
      has(classes, /phosphoric acid/i) || isOfClass(step, /^(etch-|rinse-after-etch$)/),
    words: /etch|acid/i,
  },
  {
    name: 'light',
    isIn: ({ action, usesLight }) => action.kind === 'expose' || usesLight === true,
    words: /eye|glasses|glare|light/i,
  },
  {
    name: 'resin',
    isIn: (step, classes) =>
      isPutOn(step) && has(classes, /adhesive|bonding resin|resin cement|primer|monomer/i),
    words: /resin|adhesive|primer|monomer|sensiti|allerg/i,
  },
  {
    name: 'dust',
    isIn: (step, classes) => has(classes, /abrasi/i) || isOfClass(step, /^air-abrasion$/),
    words: /dust|abra|powder/i,
  },
  {
    name: 'alkaline',
    isIn: (_, classes) => has(classes, /alkaline/i),
    words: /alkaline|cleaner/i,
  },
];

const isEnglish = ({ language = 'en' }: Protocol): boolean => /^en\b/i.test(language);

/** What lies closed on the tray, or is only read off its label, hurts nobody. */
const isClosed = ({ action }: Step): boolean =>
  action.kind === 'confirm' && action.evidence?.kind === 'material';

function classesOf(protocol: Protocol, { uses = [] }: Step): readonly string[] {
  return protocol.slots.filter(({ id }) => uses.includes(id)).map((slot) => slot.materialClass);
}

/** A caution for every hazard of a step that none of its cautions speaks of. */
export function checkHazards(protocol: Protocol): readonly Finding[] {
  const isAbout = ({ id, words, short = '' }: Caution, hazard: Hazard): boolean =>
    !isEnglish(protocol) || hazard.words.test(`${id} ${words} ${short}`);
  return protocol.steps.flatMap((step, i) => {
    if (isClosed(step)) return [];
    const said = protocol.cautions.filter(({ id }) => step.cautions?.includes(id) === true);
    const classes = classesOf(protocol, step);
    return HAZARDS.filter((hazard) => hazard.isIn(step, classes))
      .filter((hazard) => !said.some((each) => isAbout(each, hazard)))
      .map((hazard) =>
        caution('hazard-without-caution', `protocol.steps[${i}].cautions`, {
          title: step.title,
          hazard: hazard.name,
        }),
      );
  });
}
