import { BaseSequencer, type TestSpecification } from 'vitest/node';

/**
 * Files of many seconds, the longest first: begun last, one of them would leave the second processor idle for
 * the rest of the run. A file that is not named takes its place after these.
 */
const LONGEST = [
  'chair/axe.e2e',
  'chair/whole-case.e2e',
  'families/browser.e2e',
  'lead/lead.e2e',
  'chair/one-thing.e2e',
  'fixtures/kept-profile.e2e',
  'chair/emergency.e2e',
  'words/pseudo.e2e',
  'chair/reload.e2e',
];

const rank = ({ moduleId }: TestSpecification): number => {
  const at = LONGEST.findIndex((name) => moduleId.includes(`/tests/${name}.`));
  return at < 0 ? LONGEST.length : at;
};

export class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const sorted = await super.sort(files);
    return sorted.toSorted((a, b) => rank(a) - rank(b));
  }
}
