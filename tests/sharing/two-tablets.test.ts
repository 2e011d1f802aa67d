import { afterEach, describe, expect, it } from 'vitest';
import { ClinicPeople } from '../../src/runtime/library/clinic-people.ts';
import { clinic, paired, settled, TestTablet } from './clinic.ts';

let tablets: TestTablet[] = [];
afterEach(async () => {
  for (const tablet of tablets) await tablet.off();
  tablets = [];
});

async function two() {
  const of = await clinic();
  for (const name of ['a', 'b'])
    tablets.push(await new TestTablet(of, await paired(of, name)).on());
  const [a, b] = tablets;
  if (a === undefined || b === undefined) throw new Error('two tablets');
  return { of, a, b };
}

describe('two tablets of a clinic', () => {
  it('have a case of one on the other, press by press', async () => {
    const { of, a, b } = await two();
    await a.press('case-1');
    await a.press('case-1', 3);
    await settled(of.hub, tablets);
    expect(await b.entries('case-1')).toEqual(await a.entries('case-1'));
    expect((await b.entries('case-1')).length).toBe(4);
    await a.press('case-1');
    await settled(of.hub, tablets);
    expect((await b.entries('case-1')).length).toBe(5);
    expect(b.brought).toContain('entries');
  });

  it('have a recall of one on the other', async () => {
    const { of, a, b } = await two();
    const [fact] = await b.say('material', 'box-1', { type: 'recalled', lot: 'L1' });
    await settled(of.hub, tablets);
    expect(await a.facts('material')).toEqual([fact?.id]);
  });

  it('have the people of the clinic on both', async () => {
    const { of, a, b } = await two();
    const peopleOf = ({ journal, name, epoch }: TestTablet) =>
      new ClinicPeople({ journal, epoch: () => epoch, tablet: () => name, nowWallMs: () => 1 });
    const [there, here] = [peopleOf(a), peopleOf(b)];
    const ilves = { name: 'Dr Ilves', role: 'dentist' } as const;
    await there.list(ilves);
    await settled(of.hub, tablets);
    await here.refresh();
    expect(here.state.getState().people).toEqual([ilves]);
    await here.takeOff(ilves);
    await settled(of.hub, tablets);
    await there.refresh();
    expect(there.state.getState().people).toEqual([]);
  });
});
