/** A chair at which the light is paced, for the tests of passes. */
import { present } from '../../src/base/assert.ts';
import type { Pressed } from '../../src/engine/commands.ts';
import type { RunPlan, SurfacePlan } from '../../src/engine/run-plan-types.ts';
import type { Offer } from '../../src/engine/view-types.ts';
import type { Step, Surface } from '../../src/protocol/types.ts';
import { Chair } from './chair.ts';
import { confirm, expose, protocolOf, secondsFigure, settingOf, step } from './fixture.ts';

export const PACED: NonNullable<Step['pressed']> = {
  kind: 'paced',
  changeMs: secondsFigure(3),
};

/** Seat, then light: facial and lingual, 10 s each, 3 s to change over. */
export const pacedLight = (o: {
  readonly restSeconds?: number;
  readonly walk?: 'by-surface' | 'by-unit';
  readonly surfaces?: readonly Surface[];
}) =>
  protocolOf([
    step('seat', 'unit', confirm),
    step(
      'expose',
      'unit',
      expose({
        surfaces: o.surfaces ?? ['facial', 'lingual'],
        seconds: 10,
        walk: o.walk ?? 'by-surface',
        ...(o.restSeconds === undefined ? {} : { restSeconds: o.restSeconds }),
      }),
      { after: ['seat'], pressed: PACED },
    ),
    step('look', 'unit', confirm, { after: ['expose/same'] }),
  ]);

/** A chair whose units are seated and whose tones are heard. */
export function atLight(
  teeth: readonly string[],
  o: Parameters<typeof pacedLight>[0] & { readonly plan?: Partial<RunPlan> } = {},
): Chair {
  const chair = new Chair(settingOf(pacedLight(o), teeth, { restMs: {}, ...o.plan }));
  chair.do({ do: 'note-tones', heard: true }, null);
  for (const tooth of teeth) chair.rows(`confirm seat ${tooth}`);
  return chair;
}

/** The offer of this kind; a test that asks for one that is not there is broken. */
export const offered = (chair: Chair, kind: Offer['kind']): Offer =>
  present(
    chair.view.offers.find((o) => o.kind === kind),
    `${kind} among ${chair.offers.join('; ')}`,
  );

/** Presses the offer of this kind, with other places where they are given. */
export function press(chair: Chair, kind: Offer['kind'], places?: Pressed['places']): void {
  const offer = offered(chair, kind);
  const no = chair.do({ do: 'press', offer: { ...offer, ...(places && { places }) } });
  if (no) throw new Error(`${offer.id}: ${no.code}`);
}

/** `11 facial 0-10 lit`: every place of the pass, in seconds from now. */
export const passRows = (chair: Chair): string[] =>
  (chair.view.pass?.places ?? []).map(({ subject, surface, startsInMs, endsInMs, state }) => {
    const tooth = subject.replace('unit:', '');
    return `${tooth} ${surface} ${startsInMs / 1000} to ${endsInMs / 1000} ${state}`;
  });

/** `11 facial 10000`: all light that counts. */
export const given = (chair: Chair): string[] =>
  Object.entries(chair.log.state.runs).flatMap(([key, run]) =>
    run.exposures.map((e) => `${key.split(':')[1]} ${e.surface} ${e.given.loMs}`),
  );

/** A plan of one surface in presses of these seconds. */
export const inPresses = (...seconds: readonly number[]): SurfacePlan => ({
  surface: 'facial',
  setMs: seconds.reduce((sum, s) => sum + s * 1000, 0),
  presses: seconds.map((s) => s * 1000),
  positions: 1,
  decidedBy: 'dose',
});
