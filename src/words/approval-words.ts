/** Who confirmed a revision: one person, or two where the clinic asks two. */
import { protocolWords } from './protocol-words.ts';

export function approvers(approval: { readonly by: string; readonly second?: string }): string {
  const { by, second } = approval;
  return second === undefined ? by : protocolWords.byTwo({ by, second });
}
