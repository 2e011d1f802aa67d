/**
 * What can go wrong, where, and what the protocol must answer: the way back, exactly which runs no
 * longer count, and on whose word. Written from the findings that each row names, not from the
 * documents under test. "practice" is common practice without a source.
 *
 * - saliva, blood: J Esthet Restor Dent 2023;35:1218, doi 10.1111/jerd.13078 (review of 62 studies):
 *   rinsed for 10 to 30 s, dried and applied again; a self-etch adhesive too (PMC2930773).
 * - a unit that was etched is never etched again: phosphoric acid (Stoma Edu J 2019;6:18).
 * - an astringent on the tooth: J Am Dent Assoc 2014;145:1120; Oper Dent 2007;32:399.
 * - etching of enamel: Wang & Lu, Am J Orthod Dentofacial Orthop 1991;100:72-79; of dentine: Int
 *   Chin J Dent 2006;6:29-37; before a universal adhesive: Front Dent Med 2025, doi
 *   10.3389/fdmed.2025.1685381.
 * - acid on glass ceramic: Puppin-Rontani, Oper Dent 2017;42:606; Straface, Head Face Med 2019;15:21,
 *   doi 10.1186/s13005-019-0206-8.
 * - zirconia: review PMC6784479; pressure: BioMed Res Int 2018:1803425.
 * - light beyond 30 J/cm2 adds nothing: Aguiar, Polymers 2011;3:998-1005.
 */
import type { Mishap } from '../../src/protocol/types.ts';
import { MISHAPS } from '../../src/protocol/vocabulary.ts';
import type { Family } from './family-chair.ts';

export interface Scenario {
  readonly family: Family;
  /** `end etch 11`: as soon as that is done; `start expose 11`: as soon as it has begun. */
  readonly stage: string;
  readonly mishap: Mishap;
  readonly wayBack: string;
  readonly subjects: readonly string[];
  /** Steps that no longer count, with the subjects they are taken back for. */
  readonly voided: string;
  /** `practice`, or the id of the source in the document. */
  readonly basis: string;
}

/** Chains of steps that are always taken back together. */
const CHAINS: Readonly<Record<string, string>> = {
  ACID: 'acid acid-rinse units-dried',
  PRIME: 'primer primer-air',
  ETCH: 'etch etch-rinse etch-dry',
  ADHESIVE: 'coats adhesive-stand adhesive-air tooth-resin',
  BOND: 'bond bond-air',
  PORTION: 'cement-started sample-bead',
  MIX: 'cement-mixed sample-bead',
  FIELD: 'field-isolated dam-pieces-in liquid-dam',
  OFF: 'provisionals-off clean-resin remnants-checked',
  ZINC: 'provisionals-off clean-eugenol-free remnants-checked',
  DENTINE: 'etch-dentine etch-moist',
  LIT: 'bond-light',
  DRY: 'etch-dry',
  PIECES: 'field-isolated dam-pieces-in',
};

/** `ETCH coats @ tooth:11; load @ unit:11` names five runs; `-` names none. */
export function keysOf(voided: string): string[] {
  const parts = voided.split(';').filter((part) => part.includes('@'));
  return parts.flatMap((part) => {
    const [names = '', subjects = ''] = part.split('@').map((side) => side.trim());
    const steps = names.split(' ').flatMap((name) => (CHAINS[name] ?? name).split(' '));
    return steps.flatMap((step) => subjects.split(' ').map((subject) => `${step}@${subject}`));
  });
}

/** stage | mishap | way back | subjects | what no longer counts | on whose word */
function rowsOf(family: Family, table: string): Scenario[] {
  const lines = table.split('\n').filter((line) => line.includes('|'));
  return lines.map((line) => {
    const cells = line.split('|').map((cell) => cell.trim());
    const [stage = '', mishap, wayBack = '', subjects = '', voided = '', basis = ''] = cells;
    const known = MISHAPS.find((m) => m === mishap);
    if (!known || basis === '') throw new Error(`not a row: ${line}`);
    return { family, stage, mishap: known, wayBack, subjects: subjects.split(' '), voided, basis };
  });
}

export const SCENARIOS: readonly Scenario[] = [
  ...rowsOf(
    'veneers, etch-and-rinse',
    `
    end field-isolated case | saliva             | cleaned-saliva      | tooth:11 | teeth-cleaned @ tooth:11; field-isolated @ case | practice
    end etch-dry 11        | saliva             | etched-saliva       | tooth:11 | ETCH @ tooth:11 | practice
    end etch 21            | blood              | etched-blood        | tooth:21 | etch etch-rinse @ tooth:21 | practice
    end coats 11           | saliva             | adhesive-saliva     | tooth:11 | DRY coats adhesive-stand @ tooth:11 | jerd-2023
    end tooth-resin 21     | blood              | adhesive-blood      | tooth:21 | ETCH ADHESIVE @ tooth:21 | practice
    end tooth-resin 21     | haemostatic-on-tooth | haemostatic-on-tooth | tooth:21 | ETCH ADHESIVE @ tooth:21 | practice
    end teeth-cleaned 11   | haemostatic-on-tooth | haemostatic-on-tooth | tooth:11 | - | practice
    end etch-dry 21        | dried-out          | etched-waited       | tooth:21 | etch-dry @ tooth:21 | practice
    start etch 11          | over-time          | etch-over           | tooth:11 | - | wang-lu-1991
    end etch 11            | short-time         | etch-short          | tooth:11 | etch etch-rinse @ tooth:11 | practice
    start acid 21          | over-time          | acid-over           | unit:21 | - | straface-2019
    end primer-air 11      | short-time         | acid-short          | unit:11 | ACID PRIME @ unit:11 | puppin-rontani-2017
    end primer-air 11      | left-in-light      | unit-waited         | unit:11 | PRIME @ unit:11 | practice
    end primer-air 21      | saliva             | unit-saliva         | unit:21 | PRIME @ unit:21 | practice
    end unit-resin 21      | blood              | unit-blood          | unit:21 | PRIME unit-resin @ unit:21 | practice
    end load 11            | left-in-light      | loaded-in-light     | unit:11 | load PRIME unit-resin @ unit:11 | practice
    end unit-resin 11      | unit-dropped       | unit-dropped        | unit:11 | PRIME unit-resin @ unit:11 | practice
    end seat 11            | unit-will-not-seat | unit-high           | unit:11 | load seat PRIME unit-resin @ unit:11 | practice
    end seat 21            | blood              | seated-blood        | unit:21 | load seat PRIME unit-resin @ unit:21; ETCH ADHESIVE @ tooth:21; adhesive-mixed @ case | practice
    end adhesive-mixed case | over-time          | adhesive-stale      | case | adhesive-mixed @ case | practice
    end tooth-resin 11     | over-time          | resin-waited        | tooth:11 | DRY ADHESIVE @ tooth:11; adhesive-mixed @ case | practice
    end seat 21            | over-time          | cement-late         | mix:1 | PORTION @ mix:1; load seat PRIME unit-resin @ unit:21 | practice
    end load 11            | gelled-early       | cement-gelled       | mix:1 | PORTION @ mix:1; load PRIME unit-resin @ unit:11 | practice
    end gel-lifted 21      | over-time          | contact-closed      | contact:11-21 | - | practice
    end load 11            | light-failed       | light-failed        | case | - | practice
    start expose 11        | light-failed       | light-failed        | case | - | practice
    end expose 21          | light-weak         | light-weak          | case | expose @ tooth:11 tooth:21 | practice
    end tooth-resin 11     | patient-must-rinse | rinse-before-bond   | tooth:11 tooth:21 | ETCH ADHESIVE @ tooth:11 tooth:21; FIELD @ case | practice
    end tack 21            | patient-must-rinse | rinse-after-seat    | unit:11 unit:21 | - | practice
    end unit-resin 21      | stopped            | stopped-before-bond | tooth:11 tooth:21 | OFF teeth-cleaned ETCH ADHESIVE @ tooth:11 tooth:21; FIELD adhesive-mixed lamp-away @ case; unit-resin @ unit:11 unit:21 | practice
    end tack 21            | stopped            | stopped-after-seat  | unit:11 unit:21 | - | practice
    end load 21            | patient-must-rinse | rinse-before-bond   | tooth:21 | ETCH ADHESIVE @ tooth:21; FIELD @ case; PORTION @ mix:1; load @ unit:21 | practice
    end shade case         | stopped            | stopped-before-etch | case | materials-out eyes-covered light-checked pause-over @ case; OFF @ tooth:11 tooth:21 | practice
    end liquid-dam case    | stopped            | stopped-before-etch | case | materials-out eyes-covered light-checked pause-over FIELD @ case; OFF teeth-cleaned @ tooth:11 tooth:21 | practice
    end tack 11            | blood              | margin-bleeds       | unit:11 | - | practice
  `,
  ),
  ...rowsOf(
    'veneers, universal',
    `
    end etch-dry 11        | saliva             | etched-saliva       | tooth:11 | ETCH @ tooth:11 | practice
    end bond 11            | saliva             | adhesive-saliva     | tooth:11 | DRY BOND @ tooth:11 | jerd-2023
    end bond-air 21        | blood              | adhesive-blood      | tooth:21 | ETCH BOND @ tooth:21 | practice
    start etch 11          | over-time          | enamel-only         | tooth:11 | - | int-chin-j-dent-2006
    end bond-air 11        | short-time         | etch-missed         | tooth:11 | ETCH BOND @ tooth:11 | front-dent-med-2025
    end bond-air 11        | haemostatic-on-tooth | haemostatic-on-tooth | tooth:11 | ETCH BOND @ tooth:11 | practice
    end unit-bond 11       | unit-dropped       | unit-dropped        | unit:11 | PRIME unit-bond @ unit:11 | practice
    end adhesive-out case  | over-time          | adhesive-stale      | case | adhesive-out @ case | practice
    end load 11            | stopped            | stopped-before-bond | tooth:11 tooth:21 | provisionals-off clean-eugenol-free remnants-checked teeth-cleaned ETCH BOND @ tooth:11 tooth:21; FIELD adhesive-out lamp-away @ case; unit-bond @ unit:11 unit:21; PORTION @ mix:1; load @ unit:11 | practice
  `,
  ),
  ...rowsOf(
    'glass-ceramic',
    `
    end primer-air 36      | saliva             | unit-saliva         | unit:36 | PRIME @ unit:36 | j-adhes-dent-2019
    end acid 36            | short-time         | acid-short          | unit:36 | acid acid-rinse @ unit:36 | puppin-rontani-2017
    end seat 36            | over-time          | cement-late         | mix:1 | MIX @ mix:1; load seat PRIME @ unit:36 | practice
    end sample-bead 1      | gelled-early       | cement-gelled       | mix:1 | MIX @ mix:1 | practice
    end excess 36          | unit-will-not-seat | unit-high           | unit:36 | load seat excess PRIME @ unit:36; MIX @ mix:1 | practice
    end load 35            | unit-dropped       | unit-dropped        | unit:35 | PRIME load @ unit:35; MIX @ mix:2 | practice
    end gel-lifted 36      | patient-must-rinse | rinse-before-bond   | tooth:35 | ETCH DENTINE BOND LIT @ tooth:35; PIECES @ case | practice
    end gel-lifted 36      | stopped            | stopped-before-bond | tooth:35 | ZINC teeth-cleaned ETCH DENTINE BOND LIT @ tooth:35; PIECES adhesive-out lamp-away @ case | practice
    end gel-lifted 36      | over-time          | contact-closed      | contact:36-37 | - | practice
    end clean-eugenol-free 36 | stopped         | stopped-before-etch | case | materials-out eyes-covered light-checked @ case; provisionals-off clean-eugenol-free @ tooth:36 tooth:35 | practice
    end etch-dentine 35    | over-time          | dentine-over        | tooth:35 | - | key-eng-mater-2008
    end bond-light 35      | haemostatic-on-tooth | haemostatic-on-tooth | tooth:35 | ETCH DENTINE BOND LIT @ tooth:35 | practice
    end expose 35          | light-weak         | light-weak          | case | expose @ tooth:36 tooth:35 | aguiar-2011
  `,
  ),
  ...rowsOf(
    'zirconia',
    `
    end primer-air 13      | saliva             | unit-saliva         | unit:13 | abrade dust-off PRIME @ unit:13 | j-prosthodont-2022
    end dust-off 15        | wrong-material     | phosphoric-used     | unit:15 | abrade dust-off @ unit:15 | practice
    end abrade 13          | short-time         | abrasion-short      | unit:13 | abrade @ unit:13 | zirconia-review-2019
    start abrade 15        | over-time          | abrasion-over       | unit:15 | - | zirconia-abrasion-2018
    end primer-air 13      | left-in-light      | unit-waited         | unit:13 | PRIME @ unit:13 | practice
    end seat 15            | gelled-early       | cement-gelled       | mix:1 | MIX @ mix:1; load seat PRIME @ unit:15 | practice
    end seat 13            | saliva             | seated-saliva       | unit:13 | load seat PRIME @ unit:13; DRY BOND LIT @ tooth:13; adhesive-out @ case | practice
    end bond-air 13        | blood              | adhesive-blood      | tooth:13 | ETCH BOND @ tooth:13 | practice
    end primer-air 13      | unit-dropped       | unit-dropped        | unit:13 | abrade dust-off PRIME @ unit:13 | practice
  `,
  ),
  ...rowsOf(
    'composite',
    `
    end unit-bond 16       | blood              | unit-blood          | unit:16 | abrade dust-off PRIME unit-bond @ unit:16 | j-prosthodont-res-2017
    end abrade 16          | short-time         | abrasion-short      | unit:16 | abrade @ unit:16 | practice
    end load 16            | left-in-light      | loaded-in-light     | unit:16 | load PRIME unit-bond @ unit:16; MIX @ mix:1 | practice
    end tack 15            | light-failed       | light-failed        | case | - | practice
    end etch-moist 15      | dried-out          | etched-waited       | tooth:15 | etch-dry etch-moist @ tooth:15 | practice
    end bond 16            | saliva             | adhesive-saliva     | tooth:16 | DRY BOND @ tooth:16 | j-dent-2024
  `,
  ),
  ...rowsOf(
    'preparation',
    `
    end dry-fit 11         | unit-dropped       | unit-dropped        | unit:11 | dry-fit @ unit:11 | practice
    end cement-out case    | over-time          | out-too-long        | case | cement-out @ case | practice
    end cement-out case    | stopped            | put-off             | case | lot-cement lot-adhesive lot-primer lot-conditioner lot-gel light-read light-charge tablet-charge day-over cement-out @ case | practice
    end light-read case    | light-weak         | light-weak          | case | light-read @ case | practice
  `,
  ),
  ...rowsOf(
    'finishing',
    `
    end contacts-opened 11-21 | over-time          | opened-early        | contact:11-21 | - | practice
    end explore-lingual 11 | chipped            | margin-chipped      | unit:11 | margins @ unit:11; explore-facial explore-mesial explore-distal explore-lingual @ tooth:11 | practice
    end bite-marked case   | stopped            | stopped             | case | bite-marked @ case | practice
  `,
  ),
];
