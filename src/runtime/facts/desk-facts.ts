/** Which facts only a desk may say: they count where the word of that desk counts. */
import { fieldsOf } from '../../base/json.ts';
import { isLogHead } from '../anchors/head-facts.ts';
import type { Fact } from './fact.ts';

export const saidType = ({ said }: Pick<Fact, 'said'>): unknown => fieldsOf(said)['type'];

export const isOfADesk = (fact: Pick<Fact, 'kind' | 'item' | 'said'>): boolean =>
  fact.kind === 'lead-log' ||
  // Who read a number of a document against which revision of it.
  fact.kind === 'sheet' ||
  isLogHead(fact) ||
  // A recall is lifted by a desk alone.
  (fact.kind === 'material' && saidType(fact) === 'recall-lifted') ||
  (fact.kind === 'protocol' && ['confirmed', 'back-in-force'].includes(String(saidType(fact))));
