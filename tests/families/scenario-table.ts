/**
 * What can go wrong, where, and what the protocol must answer: the way back, exactly which runs no
 * longer count, and on whose word. Written from the findings that each row names, not from the
 * documents under test. "practice" is common practice without a source.
 *
 * - saliva, blood: J Esthet Restor Dent 2023 (review of 62 studies, PMID 37395344); a self-etch or
 *   universal adhesive is rinsed, dried and applied again (PMC2930773).
 * - etching of enamel: Wang & Lu, Am J Orthod Dentofacial Orthop 1991;100:72-79; of dentine: Int
 *   Chin J Dent 2006;6:29-37; before a universal adhesive: Front Dent Med 2025, doi
 *   10.3389/fdmed.2025.1685381.
 * - acid on glass ceramic: Puppin-Rontani, Oper Dent 2017;42:606; Straface, Head Face Med 2019;15:21,
 *   doi 10.1186/s13005-019-0206-8.
 * - zirconia: review PMC6784479; pressure: BioMed Res Int 2018:1803425.
 * - light beyond 30 J/cm2 adds nothing: Aguiar, Polymers 2011;3:998-1005.
 */
import type { Mishap } from '../../src/protocol/types.ts';
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

type Row = readonly [
  stage: string,
  mishap: Mishap,
  wayBack: string,
  subjects: string,
  voided: string,
  basis: string,
];

const rowsOf = (family: Family, rows: readonly Row[]): Scenario[] =>
  rows.map(([stage, mishap, wayBack, subjects, voided, basis]) => ({
    family,
    stage,
    mishap,
    wayBack,
    subjects: subjects.split(' '),
    voided,
    basis,
  }));

const P = 'practice';

/** `etch rinse @ tooth:11; load @ unit:11` names four runs. */
export function keysOf(voided: string): string[] {
  return voided
    .split(';')
    .filter((part) => part.trim() !== '')
    .flatMap((part) => {
      const [steps = '', subjects = ''] = part.split('@').map((side) => side.trim().split(' '));
      return [...steps].flatMap((step) => [...subjects].map((subject) => `${step}@${subject}`));
    });
}

const ETCH = 'etch etch-rinse etch-dry';
const RINSE_ADHESIVE = 'coats adhesive-stand adhesive-air tooth-resin';
const ACID = 'acid acid-rinse units-dried';
const BOTH = 'tooth:11 tooth:21';

export const SCENARIOS: readonly Scenario[] = [
  ...rowsOf('veneers, etch-and-rinse', [
    [
      'end field-isolated case',
      'saliva',
      'cleaned-saliva',
      'tooth:11',
      'teeth-cleaned @ tooth:11; field-isolated @ case',
      P,
    ],
    ['end etch-dry 11', 'saliva', 'etched-saliva', 'tooth:11', `${ETCH} @ tooth:11`, P],
    ['end etch 21', 'blood', 'etched-blood', 'tooth:21', 'etch etch-rinse @ tooth:21', P],
    [
      'end coats 11',
      'saliva',
      'adhesive-saliva',
      'tooth:11',
      'coats adhesive-stand @ tooth:11',
      'jerd-2023',
    ],
    [
      'end tooth-resin 21',
      'blood',
      'adhesive-blood',
      'tooth:21',
      `${ETCH} ${RINSE_ADHESIVE} @ tooth:21`,
      P,
    ],
    ['end etch-dry 21', 'dried-out', 'etched-waited', 'tooth:21', 'etch-dry @ tooth:21', P],
    ['start etch 11', 'over-time', 'etch-over', 'tooth:11', '', 'wang-lu-1991'],
    ['end etch 11', 'short-time', 'etch-short', 'tooth:11', 'etch etch-rinse @ tooth:11', P],
    ['start acid 21', 'over-time', 'acid-over', 'unit:21', '', 'straface-2019'],
    [
      'end primer-air 11',
      'short-time',
      'acid-short',
      'unit:11',
      `${ACID} primer primer-air @ unit:11`,
      'puppin-rontani-2017',
    ],
    [
      'end units-cleaned 11',
      'left-in-light',
      'unit-waited',
      'unit:11',
      'primer primer-air @ unit:11',
      P,
    ],
    [
      'end units-cleaned 21',
      'saliva',
      'unit-saliva',
      'unit:21',
      'units-dried primer primer-air @ unit:21',
      P,
    ],
    [
      'end unit-resin 21',
      'blood',
      'unit-blood',
      'unit:21',
      'units-dried primer primer-air unit-resin @ unit:21',
      P,
    ],
    ['end load 11', 'left-in-light', 'loaded-in-light', 'unit:11', 'load unit-resin @ unit:11', P],
    [
      'end unit-resin 11',
      'unit-dropped',
      'unit-dropped',
      'unit:11',
      `${ACID} primer primer-air unit-resin @ unit:11`,
      P,
    ],
    ['end seat 11', 'unit-will-not-seat', 'unit-high', 'unit:11', 'load seat @ unit:11', P],
    [
      'end seat 21',
      'blood',
      'seated-blood',
      'unit:21',
      `load seat primer primer-air unit-resin @ unit:21; ${RINSE_ADHESIVE} @ tooth:21`,
      P,
    ],
    ['end adhesive-mixed case', 'over-time', 'adhesive-stale', 'case', 'adhesive-mixed @ case', P],
    [
      'end tooth-resin 11',
      'over-time',
      'resin-waited',
      'tooth:11',
      `${RINSE_ADHESIVE} @ tooth:11`,
      P,
    ],
    [
      'end seat 21',
      'over-time',
      'cement-late',
      'mix:1',
      'cement-started sample-bead @ mix:1; load seat @ unit:11 unit:21',
      P,
    ],
    [
      'end load 11',
      'gelled-early',
      'cement-gelled',
      'mix:1',
      'cement-started sample-bead @ mix:1; load @ unit:11',
      P,
    ],
    ['start expose 11', 'light-failed', 'light-failed', 'case', '', P],
    ['end expose 21', 'light-weak', 'light-weak', 'case', 'expose @ unit:11 unit:21', P],
    [
      'end tooth-resin 11',
      'patient-must-rinse',
      'rinse-before-bond',
      BOTH,
      `${ETCH} ${RINSE_ADHESIVE} @ ${BOTH}`,
      P,
    ],
    ['end tack 21', 'patient-must-rinse', 'rinse-after-seat', 'unit:11 unit:21', '', P],
    [
      'end unit-resin 21',
      'stopped',
      'stopped-before-bond',
      BOTH,
      `${ETCH} ${RINSE_ADHESIVE} @ ${BOTH}; adhesive-mixed lamp-away @ case; unit-resin @ unit:11 unit:21`,
      P,
    ],
    ['end tack 21', 'stopped', 'stopped-after-seat', 'unit:11 unit:21', '', P],
  ]),
  ...rowsOf('veneers, universal', [
    ['end etch-dry 11', 'saliva', 'etched-saliva', 'tooth:11', `${ETCH} @ tooth:11`, P],
    [
      'end bond 11',
      'saliva',
      'adhesive-saliva',
      'tooth:11',
      'bond bond-air @ tooth:11',
      'self-etch-saliva',
    ],
    [
      'end bond-air 21',
      'blood',
      'adhesive-blood',
      'tooth:21',
      `${ETCH} bond bond-air @ tooth:21`,
      P,
    ],
    ['start etch 11', 'over-time', 'enamel-only', 'tooth:11', '', 'int-chin-j-dent-2006'],
    [
      'end bond-air 11',
      'short-time',
      'etch-missed',
      'tooth:11',
      `${ETCH} bond bond-air @ tooth:11`,
      'front-dent-med-2025',
    ],
    [
      'end unit-bond 11',
      'unit-dropped',
      'unit-dropped',
      'unit:11',
      `${ACID} primer primer-air unit-bond @ unit:11`,
      P,
    ],
    ['end adhesive-out case', 'over-time', 'adhesive-stale', 'case', 'adhesive-out @ case', P],
  ]),
  ...rowsOf('glass-ceramic', [
    [
      'end primer-air 36',
      'saliva',
      'unit-saliva',
      'unit:36',
      'units-dried primer primer-air @ unit:36',
      P,
    ],
    [
      'end acid 36',
      'short-time',
      'acid-short',
      'unit:36',
      'acid acid-rinse @ unit:36',
      'puppin-rontani-2017',
    ],
    [
      'end seat 36',
      'over-time',
      'cement-late',
      'mix:1',
      'cement-mixed sample-bead @ mix:1; load seat @ unit:36',
      P,
    ],
    [
      'end sample-bead 1',
      'gelled-early',
      'cement-gelled',
      'mix:1',
      'cement-mixed sample-bead @ mix:1',
      P,
    ],
    [
      'end excess 1',
      'unit-will-not-seat',
      'unit-high',
      'unit:36',
      'load seat @ unit:36; excess @ mix:1',
      P,
    ],
    [
      'end load 35',
      'unit-dropped',
      'unit-dropped',
      'unit:35',
      `${ACID} primer primer-air load @ unit:35`,
      P,
    ],
    [
      'end gel-lifted 36',
      'patient-must-rinse',
      'rinse-before-bond',
      'tooth:35',
      `${ETCH} bond bond-air @ tooth:35`,
      P,
    ],
    [
      'end gel-lifted 36',
      'stopped',
      'stopped-before-bond',
      'tooth:35',
      `${ETCH} bond bond-air @ tooth:35; adhesive-out lamp-away @ case`,
      P,
    ],
    [
      'end expose 35',
      'light-weak',
      'light-weak',
      'case',
      'expose @ unit:36 unit:35',
      'aguiar-2011',
    ],
  ]),
  ...rowsOf('zirconia', [
    [
      'end primer-air 13',
      'saliva',
      'unit-saliva',
      'unit:13',
      'abrade dust-off primer primer-air @ unit:13',
      'zirconia-review-2019',
    ],
    ['end dust-off 15', 'saliva', 'phosphoric-used', 'unit:15', 'abrade dust-off @ unit:15', P],
    [
      'end abrade 13',
      'short-time',
      'abrasion-short',
      'unit:13',
      'abrade @ unit:13',
      'zirconia-review-2019',
    ],
    ['start abrade 15', 'over-time', 'abrasion-over', 'unit:15', '', 'zirconia-abrasion-2018'],
    [
      'end primer-air 13',
      'left-in-light',
      'unit-waited',
      'unit:13',
      'primer primer-air @ unit:13',
      P,
    ],
    [
      'end seat 15',
      'gelled-early',
      'cement-gelled',
      'mix:1',
      'cement-mixed sample-bead @ mix:1; load seat @ unit:13 unit:15',
      P,
    ],
    [
      'end bond-air 13',
      'blood',
      'adhesive-blood',
      'tooth:13',
      `${ETCH} bond bond-air @ tooth:13`,
      P,
    ],
    [
      'end primer-air 13',
      'unit-dropped',
      'unit-dropped',
      'unit:13',
      'abrade dust-off primer primer-air @ unit:13',
      P,
    ],
  ]),
  ...rowsOf('composite', [
    [
      'end unit-bond 16',
      'blood',
      'unit-blood',
      'unit:16',
      'dust-off primer primer-air unit-bond @ unit:16',
      P,
    ],
    ['end abrade 16', 'short-time', 'abrasion-short', 'unit:16', 'abrade @ unit:16', P],
    ['end load 16', 'left-in-light', 'loaded-in-light', 'unit:16', 'load unit-bond @ unit:16', P],
    ['end tack 15', 'light-failed', 'light-failed', 'case', '', P],
    ['end etch-dry 15', 'dried-out', 'etched-waited', 'tooth:15', 'etch-dry @ tooth:15', P],
    [
      'end bond 16',
      'saliva',
      'adhesive-saliva',
      'tooth:16',
      'bond bond-air @ tooth:16',
      'self-etch-saliva',
    ],
  ]),
  ...rowsOf('preparation', [
    ['end dry-fit 11', 'unit-dropped', 'unit-dropped', 'unit:11', 'dry-fit @ unit:11', P],
    ['end cement-out case', 'over-time', 'out-too-long', 'case', 'cement-out @ case', P],
    ['end light-read case', 'light-weak', 'light-weak', 'case', 'light-read @ case', P],
  ]),
  ...rowsOf('finishing', [
    ['end contacts-opened 11-21', 'over-time', 'opened-early', 'contact:11-21', '', P],
    [
      'end explore-lingual 11',
      'unit-dropped',
      'margin-chipped',
      'unit:11',
      'margins @ unit:11; explore-facial explore-mesial explore-distal explore-lingual @ tooth:11',
      P,
    ],
    ['end bite-marked case', 'stopped', 'stopped', 'case', 'bite-marked @ case', P],
  ]),
];
