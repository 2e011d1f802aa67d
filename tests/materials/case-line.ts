/** The line of a case of another tablet, closed long ago. */
import type { CaseFacts } from '../../src/runtime/cases/cases-list-facts.ts';

export const CASE_LINE: CaseFacts = {
  caseId: 'far-1',
  head: 'h1',
  title: 'Upper front, two units',
  chartRef: 'KB-2041',
  mode: 'patient',
  openedWallMs: Date.UTC(2024, 10, 25, 9),
  isClosed: true,
  teeth: ['11', '21'],
  people: ['AN', 'MR'],
  protocol: 'Thin veneers',
  lots: [
    {
      slot: 'cement',
      slotLabel: 'Cement',
      materialClass: 'light-cured resin cement',
      label: 'Cement, shelf 2',
      lot: 'CE-7',
      steps: ['Load'],
    },
  ],
  breaches: 0,
  perhaps: 0,
  isStoreOnly: true,
};
