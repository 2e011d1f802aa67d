/** Ids: each once, and every reference leads somewhere. */

import { conditionsOf, flatConditions } from './conditions.ts';
import type { Fact } from './facts.ts';
import { caution, type Finding, type FindingCode, fault, type Names } from './finding.ts';
import type { OnlyIf, Protocol, Step } from './types.ts';
import { CONDITIONED, OPACITIES, PROVISIONALS, SUBSTRATES } from './vocabulary.ts';
import { basesOf } from './walk-figures.ts';

function duplicates(items: readonly { readonly id: string }[], place: string): readonly Finding[] {
  const seen = new Set<string>();
  return items.flatMap(({ id }, i) => {
    if (!seen.has(id)) {
      seen.add(id);
      return [];
    }
    return [fault('duplicate-id', `${place}[${i}].id`, { id })];
  });
}

function known(
  id: string | undefined,
  place: string,
  against: { readonly names: ReadonlySet<string>; readonly code: FindingCode },
): readonly Finding[] {
  return id === undefined || against.names.has(id) ? [] : [fault(against.code, place, { id })];
}

interface Look {
  readonly protocol: Protocol;
  readonly names: Names;
}

/** What a way back never voids opens nothing. */
function voidedFindings(
  { protocol, names }: Look,
  { wayBack, voided }: Extract<OnlyIf, { wayBack: string }>,
  place: string,
): readonly Finding[] {
  const way = protocol.waysBack.find(({ id }) => id === wayBack);
  const voids = new Set(way?.voids.map(({ step }) => step) ?? names.steps);
  return known(voided, place, { names: voids, code: 'unknown-step' });
}

function optionFindings(look: Look, condition: OnlyIf, place: string): readonly Finding[] {
  if ('wayBack' in condition) {
    const against = { names: look.names.waysBack, code: 'unknown-way-back' } as const;
    return [
      ...known(condition.wayBack, `${place}.wayBack`, against),
      ...voidedFindings(look, condition, `${place}.voided`),
    ];
  }
  const other = look.protocol.steps.find((step) => step.id === condition.step);
  if (other === undefined) return [fault('unknown-step', `${place}.step`, { id: condition.step })];
  const options = other.action.kind === 'choose' ? other.action.options : [];
  return known(condition.option, `${place}.option`, {
    names: new Set(options.map((option) => option.id)),
    code: 'unknown-option',
  });
}

const isCounted = ({ action }: Step): boolean =>
  action.kind === 'confirm' && action.evidence?.kind === 'reading';

function actionReferences(look: Look, step: Step, place: string): readonly Finding[] {
  const { action } = step;
  if (action.kind === 'choose') {
    return action.options.flatMap((option, o) =>
      (option.redo ?? []).flatMap((id, r) =>
        known(id, `${place}.options[${o}].redo[${r}]`, {
          names: look.names.steps,
          code: 'unknown-step',
        }),
      ),
    );
  }
  if (action.kind !== 'confirm') return [];
  if (action.evidence?.kind === 'reading') {
    const { equals } = action.evidence;
    const counted = look.protocol.steps.filter(isCounted).map((other) => other.id);
    const against = { names: new Set(counted), code: 'unknown-step' } as const;
    return known(equals, `${place}.evidence.equals`, against);
  }
  if (action.evidence?.kind !== 'material') return [];
  const against = { names: look.names.slots, code: 'unknown-slot' } as const;
  return known(action.evidence.slot, `${place}.evidence.slot`, against);
}

function stepReferences(look: Look, step: Step, place: string): readonly Finding[] {
  const { names } = look;
  const steps = { names: names.steps, code: 'unknown-step' } as const;
  const slots = { names: names.slots, code: 'unknown-slot' } as const;
  const cautions = { names: names.cautions, code: 'unknown-caution' } as const;
  return [
    ...known(step.stage, `${place}.stage`, { names: names.stages, code: 'unknown-stage' }),
    ...known(step.roundOf, `${place}.roundOf`, steps),
    ...known(step.beginsWith, `${place}.beginsWith`, steps),
    ...step.after.flatMap((a, i) => known(a.step, `${place}.after[${i}].step`, steps)),
    ...(step.uses ?? []).flatMap((id, i) => known(id, `${place}.uses[${i}]`, slots)),
    ...(step.cautions ?? []).flatMap((id, i) => known(id, `${place}.cautions[${i}]`, cautions)),
    ...(step.onlyIf ?? []).flatMap((c, i) => optionFindings(look, c, `${place}.onlyIf[${i}]`)),
    ...actionReferences(look, step, `${place}.action`),
  ];
}

const VALUES: Readonly<Partial<Record<Fact, readonly string[]>>> = {
  substrate: SUBSTRATES,
  provisional: PROVISIONALS,
  conditioned: CONDITIONED,
  opacity: OPACITIES,
  pontics: ['yes', 'no'],
};

/** Values that no case file can hold, and choices or options that the protocol does not offer. */
function conditionFindings(protocol: Protocol): readonly Finding[] {
  return conditionsOf(protocol).flatMap(({ place, where }) =>
    flatConditions(where).flatMap((each): readonly Finding[] => {
      if ('overMm' in each) return [];
      const answers = 'isNot' in each ? each.isNot : each.is;
      if (answers.length === 0) return [fault('condition-without-value', place)];
      if ('fact' in each) {
        const values = VALUES[each.fact];
        const wrong = answers.filter((value) => values !== undefined && !values.includes(value));
        return wrong.map((id) => fault('unknown-value', place, { id, of: each.fact }));
      }
      const choice = protocol.choices?.find(({ id }) => id === each.choice);
      if (choice === undefined) return [fault('unknown-choice', place, { id: each.choice })];
      const options = new Set(choice.options.map(({ id }) => id));
      const wrong = each.is.filter((id) => !options.has(id));
      return wrong.map((id) => fault('unknown-option', place, { id }));
    }),
  );
}

function choiceReferences({ choices = [] }: Protocol): readonly Finding[] {
  return choices.flatMap((choice, i) => {
    const place = `protocol.choices[${i}]`;
    const isThere = choice.options.some(({ id }) => id === choice.default);
    return [
      ...duplicates(choice.options, `${place}.options`),
      ...(isThere ? [] : [fault('unknown-option', `${place}.default`, { id: choice.default })]),
    ];
  });
}

function windowAndWayBackReferences({ protocol, names }: Look): readonly Finding[] {
  const steps = { names: names.steps, code: 'unknown-step' } as const;
  const ways = { names: names.waysBack, code: 'unknown-way-back' } as const;
  const cautions = { names: names.cautions, code: 'unknown-caution' } as const;
  return [
    ...protocol.windows.flatMap((window, i) => [
      ...known(window.from.step, `protocol.windows[${i}].from.step`, steps),
      ...known(window.to.step, `protocol.windows[${i}].to.step`, steps),
      ...known(window.wayBack, `protocol.windows[${i}].wayBack`, ways),
    ]),
    ...protocol.waysBack.flatMap((way, i) => [
      ...known(way.from?.step, `protocol.waysBack[${i}].from.step`, steps),
      ...known(way.until?.step, `protocol.waysBack[${i}].until.step`, steps),
      ...(way.cautions ?? []).flatMap((id, j) =>
        known(id, `protocol.waysBack[${i}].cautions[${j}]`, cautions),
      ),
      ...way.voids.flatMap((v, j) => [
        ...known(v.step, `protocol.waysBack[${i}].voids[${j}].step`, steps),
        ...known(v.onlyAfter, `protocol.waysBack[${i}].voids[${j}].onlyAfter`, steps),
      ]),
    ]),
  ];
}

function sourceReferences({ protocol, names }: Look): readonly Finding[] {
  const against = { names: names.sources, code: 'unknown-source' } as const;
  return basesOf(protocol).flatMap(({ place, basis }) =>
    basis.kind === 'published' ? known(basis.source, `${place}.basis.source`, against) : [],
  );
}

/** What one line beside a running clock holds, at the size that is read from a metre. */
export const SHORT_CAUTION_MAX = 34;

/** A document without any short form was written before there were any: the chair shows its words. */
function shortCautions({ cautions }: Protocol): readonly Finding[] {
  if (cautions.every(({ short }) => short === undefined)) return [];
  return cautions.flatMap(({ id, short = '' }, i) => {
    const length = [...short].length;
    if (length > 0 && length <= SHORT_CAUTION_MAX) return [];
    const values = { id, length, max: SHORT_CAUTION_MAX };
    return [caution('caution-not-short', `protocol.cautions[${i}].short`, values)];
  });
}

function unused(look: Look): readonly Finding[] {
  const { protocol } = look;
  const uses = new Set(protocol.steps.flatMap((step) => step.uses ?? []));
  const stages = new Set(protocol.steps.map((step) => step.stage));
  return [
    ...protocol.slots.flatMap(({ id, label }, i) =>
      uses.has(id) ? [] : [caution('unused', `protocol.slots[${i}].id`, { id, title: label })],
    ),
    ...protocol.stages.flatMap(({ id, title }, i) =>
      stages.has(id) ? [] : [caution('unused', `protocol.stages[${i}].id`, { id, title })],
    ),
  ];
}

/** Doubled ids, references that lead nowhere, and slots and stages that nothing uses. */
export function checkReferences(protocol: Protocol, names: Names): readonly Finding[] {
  const look = { protocol, names };
  const lists = ['sources', 'cautions', 'slots', 'stages', 'steps', 'windows', 'waysBack'] as const;
  return [
    ...lists.flatMap((list) => duplicates(protocol[list], `protocol.${list}`)),
    ...protocol.steps.flatMap((step, i) => stepReferences(look, step, `protocol.steps[${i}]`)),
    ...duplicates(protocol.choices ?? [], 'protocol.choices'),
    ...duplicates(protocol.lists ?? [], 'protocol.lists'),
    ...choiceReferences(protocol),
    ...conditionFindings(protocol),
    ...windowAndWayBackReferences(look),
    ...sourceReferences(look),
    ...shortCautions(protocol),
    ...unused(look),
  ];
}
