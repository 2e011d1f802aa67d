import { BaseSequencer, type TestSpecification } from 'vitest/node';

/**
 * Files of many seconds, the longest first: begun last, one of them would leave the second processor idle for
 * the rest of the run. A file that is not named takes its place after these.
 */
const LONGEST = [
  'simulate/simulate',
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

/** 1 where files share a process: that goes on only while the next file may share it too, so these come last. */
const isShared = ({ project }: TestSpecification): number => (project.config.isolate ? 0 : 1);

export class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const sorted = await super.sort(files);
    return sorted.toSorted((a, b) => isShared(a) - isShared(b) || rank(a) - rank(b));
  }
}
