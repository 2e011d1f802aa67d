// @vitest-environment jsdom
// What is typed and was not applied outlives a page that is loaded anew: another desk, the same window.
import { act, renderHook } from '@testing-library/react';
import type { ReactNode } from 'react';
import { beforeEach, describe, expect, it } from 'vitest';
import type { LeadDesk } from '../../src/runtime/lead/lead.ts';
import { keptForms, useKept } from '../../src/ui/lead/editor/editor-kept.ts';
import { newStep } from '../../src/ui/lead/editor/editor-new.ts';
import { STORED_STEP } from '../../src/ui/lead/editor/editor-step.ts';
import { LeadContext } from '../../src/ui/lead/use-lead.ts';
import { smallProtocol } from '../protocol/edit-support.ts';
import { openDesk } from './lead-support.ts';

const step = newStep(smallProtocol());

function formAt(desk: LeadDesk, key = 'draft-1 step') {
  const forms = keptForms(STORED_STEP.form);
  const wrapper = ({ children }: { readonly children: ReactNode }) => (
    <LeadContext.Provider value={desk}>{children}</LeadContext.Provider>
  );
  return renderHook(() => useKept(forms, key, () => step), { wrapper });
}

beforeEach(() => sessionStorage.clear());

describe('what was typed into the form of a step', () => {
  it('is there again after a reload, with the numbers that nobody has given yet', async () => {
    const typed = {
      ...step,
      title: 'Rinse',
      action: { kind: 'dwell', targetMs: { value: Number.NaN, basis: { kind: 'practice' } } },
    } as const;
    const first = formAt((await openDesk()).desk);
    act(() => first.result.current.set(typed));
    first.unmount();
    const again = formAt((await openDesk()).desk);
    expect(again.result.current.value).toEqual(typed);
    expect(formAt((await openDesk()).desk, 'draft-2 step').result.current.value).toEqual(step);
    act(() => again.result.current.forget());
    expect(formAt((await openDesk()).desk).result.current.value).toEqual(step);
  });

  it('begins anew where what was stored is no step', async () => {
    const first = formAt((await openDesk()).desk);
    act(() => first.result.current.set({ ...step, title: 'Rinse' }));
    const [place = ''] = Object.keys(sessionStorage);
    for (const text of ['{', '{"id":"x"}', 'null']) {
      sessionStorage.setItem(place, text);
      expect(formAt((await openDesk()).desk).result.current.value).toEqual(step);
    }
  });
});
