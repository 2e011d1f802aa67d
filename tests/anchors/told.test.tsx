// @vitest-environment jsdom
// Where a case that is not as it was signed is named.
import { render, screen } from '@testing-library/react';
import { describe, expect, it } from 'vitest';
import type { BrokenChain } from '../../src/runtime/anchors/broken-chains.ts';
import { NOT_SHARING } from '../../src/runtime/sharing/sharing-state.ts';
import { BrokenChains } from '../../src/ui/shared/BrokenChains.tsx';
import { brokenChainWords } from '../../src/words/broken-chain-words.ts';
import { fakeSession, show } from '../ui-screens/fake-session.tsx';

describe('a case that is not as it was signed', () => {
  const kinds = ['cut', 'differs', 'stepped-back', 'forged-head'] as const;
  const brokenChains = kinds.map(
    (kind): BrokenChain => ({ caseId: `case-${kind}`, kind, device: 'd1', named: 14, here: 10 }),
  );
  const row = { device: 'd1', name: 'Chair 1', isThis: false, standing: 'paired' } as const;
  const tablets = [{ ...row, lastContactWallMs: null, owes: null, runs: null }];
  const session = () => fakeSession({ sharing: { ...NOT_SHARING, tablets, brokenChains } });

  it('is named with what each tablet signed, and what to do', () => {
    show(<BrokenChains />, { session: session() });
    const told = screen.getAllByRole('alert').map((each) => each.textContent);
    expect(told).toHaveLength(4);
    for (const words of told) {
      expect(words).toContain('Chair 1');
      expect(words).toContain(brokenChainWords.todo);
    }
    expect(told[0]).toContain('Chair 1 signed 14 entries, 10 are here.');
  });

  it('is named in its own record alone', () => {
    show(<BrokenChains caseId="case-cut" />, { session: session() });
    expect(screen.getAllByRole('alert')).toHaveLength(1);
  });

  it('is not there where all is as it was', () => {
    const { container } = render(<p />);
    show(<BrokenChains />, { session: fakeSession() });
    expect(container.parentElement?.textContent).toBe('');
  });
});
