/**
 * The record against rows of what was done. Expected figures are counted by hand from the rows
 * (end minus start, minus the bound); the times of the rows are the standard they are held to.
 */
import { describe, expect, it } from 'vitest';
import { viewOf } from '../../src/engine/view.ts';
import { chainModel } from '../../src/ui/record/page/chain-model.ts';
import { recordModel } from '../../src/ui/record/page/record-model.ts';
import { Chair } from '../engine/chair.ts';
import { ETCH_ROUND, SMALL_WHOLE, settingOf } from '../engine/fixture.ts';
import { follow } from '../engine/walks.ts';
import { finished, followed, sourceOf, templateSetting } from '../export/journals.ts';

const plain = (text: string): string => text.replaceAll('\u00a0', ' ');

const etched = () =>
  new Chair(settingOf(ETCH_ROUND, ['11', '21'])).rows(`
    at 0 s   confirm ready case
    at 1 s   start etch 11
    at 5 s   start etch 21
    at 21 s  end etch 11
    at 41 s  end etch 21
  `);

const cellsOf = (chair: Chair, step: string) => {
  const model = recordModel(sourceOf(chair.log));
  const line = model.stages.flatMap((s) => s.lines).find((l) => l.step === step);
  return line?.cells?.map((c) => [c.state, plain(c.figure), plain(c.remark)]);
};

describe('steps of the record', () => {
  it('tell the time elapsed on each unit and by how much a limit was passed', () => {
    // 21 was etched from 5 s to 41 s: 36 s, against a limit of 30 s.
    expect(cellsOf(etched(), 'etch')).toEqual([
      ['done', '20 s', ''],
      ['broken', '36 s', '6 s over'],
    ]);
  });

  it('say what is still open', () => {
    expect(cellsOf(etched(), 'dry')).toEqual([
      ['open', '', ''],
      ['open', '', ''],
    ]);
  });

  it('keep the reason of a skip', () => {
    const chair = new Chair(settingOf(ETCH_ROUND, ['11'])).rows(`
      at 0 s  confirm ready case
      at 1 s  skip etch 11 because dentine only
    `);
    expect(cellsOf(chair, 'etch')).toEqual([['skipped', 'skipped', 'dentine only']]);
  });

  it('tell an interval where the app was closed in between', () => {
    const chair = new Chair(settingOf(ETCH_ROUND, ['11'])).rows(`
      at 0 s   confirm ready case
      at 1 s   start etch 11
      at 11 s  reload 8 s
      at 21 s  end etch 11
    `);
    const [cell] = cellsOf(chair, 'etch') ?? [];
    expect(cell?.[1]).toMatch(/^\d+ s to \d+ s$/);
  });

  it('name who pressed', () => {
    const line = recordModel(sourceOf(etched().log))
      .stages.flatMap((s) => s.lines)
      .find((l) => l.step === 'etch');
    expect(line?.who).toBe('pressed by Dentist A');
  });
});

describe('bounds that were not kept', () => {
  it('stand in words with tooth, step and seconds', () => {
    const words = recordModel(sourceOf(etched().log)).breaches.map((b) => plain(b.words));
    expect(words).toEqual(['21: etch, over the limit by 6 s']);
  });
});

const exposed = () =>
  new Chair(settingOf(SMALL_WHOLE, ['11'])).rows(`
    at 0 s    confirm ready case
    at 5 s    confirm fit 11
    at 6 s    choose shade case accepted
    at 10 s   start etch 11
    at 30 s   end etch 11
    at 45 s   end rinse 11
    at 50 s   confirm dry 11
    at 60 s   coat coats 11
    at 65 s   coat coats 11
    at 130 s  confirm cement 1
    at 140 s  confirm load 11
    at 150 s  confirm seat 11
    at 155 s  light-on tack 11 facial 3
    at 158 s  light-off tack 11 facial
    at 180 s  light-on expose 11 facial 10
    at 184 s  light-off expose 11 facial
  `);

describe('exposure', () => {
  it('is told for every tooth and surface, the missing seconds too', () => {
    const table = recordModel(sourceOf(exposed().log)).exposures.find((t) => t.step === 'expose');
    expect(table?.surfaces.map((s) => s.id)).toEqual(['facial', 'lingual']);
    expect(table?.rows.map((r) => r.cells)).toEqual([
      [
        { surface: 'facial', givenMs: 4_000, setMs: 10_000 },
        { surface: 'lingual', givenMs: 0, setMs: 10_000 },
      ],
    ]);
  });
});

describe('windows', () => {
  it('tell what was left of each limit', () => {
    const lines = recordModel(sourceOf(exposed().log)).windows.map((w) => [
      w.id,
      plain(w.tightest ?? ''),
    ]);
    // dry 50 s to first coat 60 s: 50 s of 60 s left. Cement 130 s to the end of the tack 158 s.
    expect(lines).toContainEqual(['wet-surface', '+50 s']);
    expect(lines).toContainEqual(['working', '+3 min 32 s']);
    expect(lines).toContainEqual(['warm', '+10 s']);
  });
});

describe('materials', () => {
  it('tell each lot with the teeth it was used on, and a slot whose lot nobody named', () => {
    // The journal names one lot for each slot; every slot that a tooth step asks for was used on both.
    const lots = recordModel(sourceOf(followed('two-veneers').log)).materials;
    const [gel] = lots.filter((l) => l.materialClass.startsWith('phosphoric acid gel'));
    expect([gel?.isLotKnown, gel?.teeth]).toEqual([true, '11, 21']);
    const unnamed = new Chair(templateSetting('two-veneers'));
    follow(unnamed, 5000);
    const told = recordModel(sourceOf(unnamed.log)).materials;
    const [bare] = told.filter((l) => l.materialClass.startsWith('phosphoric acid gel'));
    expect([bare?.lot, bare?.teeth]).toEqual(['not recorded', '11, 21']);
  });
});

describe('a note after the signature', () => {
  it('says that it was added later', () => {
    const notes = recordModel(sourceOf(finished().log)).remarks;
    expect(notes.map((n) => n.detail ?? '')).toEqual(['', 'Added after the signature']);
  });
});

describe('corrections', () => {
  const corrected = () =>
    etched().rows(`
      at 43 s  retime -3 s
      at 44 s  undo
      at 44 s  undo
      at 45 s  end etch 21
      at 50 s  note gel was blue
    `);

  it('stay visible as corrections', () => {
    const model = recordModel(sourceOf(corrected().log));
    expect(model.corrections.map((c) => plain(c.words))).toEqual([
      expect.stringMatching(/^Press \d+ moved 3 s earlier: /),
      expect.stringMatching(/^Press \d+ of \d\d:\d\d:\d\d taken back: /),
      expect.stringMatching(/^Press \d+ of \d\d:\d\d:\d\d taken back: /),
    ]);
  });

  it('keep notes with who wrote them', () => {
    const [note] = recordModel(sourceOf(corrected().log)).remarks;
    expect([note?.words, note?.who]).toEqual(['gel was blue', 'Dentist A']);
  });
});

describe('ways back', () => {
  it('tell the reason and what no longer counts', () => {
    const chair = new Chair(settingOf(SMALL_WHOLE, ['11'])).rows(`
      at 0 s   confirm ready case
      at 5 s   confirm fit 11
      at 6 s   choose shade case accepted
      at 10 s  start etch 11
      at 30 s  end etch 11
      at 45 s  end rinse 11
      at 47 s  way-back wet saliva tooth:11 because cotton slipped
    `);
    const [taken] = recordModel(sourceOf(chair.log)).waysBack;
    expect(taken?.words).toBe('11: Saliva on an etched tooth. cotton slipped');
    expect(taken?.detail).toBe('No longer counts: etch, rinse');
  });
});

describe('the page as a whole', () => {
  it('has a column for every unit and a tooth in the picture for every tooth', () => {
    const model = recordModel(sourceOf(etched().log));
    expect(model.columns.map((c) => c.label)).toEqual(['11', '21']);
    expect(model.teeth.map((t) => t.id)).toEqual(['11', '21']);
  });

  it('is the same for the same log', () => {
    expect(recordModel(sourceOf(exposed().log))).toEqual(recordModel(sourceOf(exposed().log)));
  });

  it('claims nothing about the material', () => {
    const chair = exposed();
    const text = JSON.stringify(recordModel(sourceOf(chair.log)));
    expect(viewOf(chair.log.state, chair.stamp).total).toBeGreaterThan(0);
    expect(text).not.toMatch(/\bcured\b|\bsafe\b|\badequate\b/i);
  });
});

describe('the check of the chain', () => {
  it('is whole only when nothing was set apart', () => {
    const whole = chainModel({ entries: [], apart: [], verdict: { goodCount: 9, firstBad: null } });
    expect([whole.isWhole, whole.words]).toEqual([true, '9 entries, each hash fits the next']);
  });

  it('is not whole where an anchor names more, and says what a signature shows', () => {
    const verdict = { goodCount: 9, firstBad: null };
    const anchor = { entries: 12, head: 'ab', publicKey: 'cd', signature: 'ef', isSigned: true };
    const cut = chainModel({ entries: [], apart: [], verdict }, { ...anchor, state: 'cut' });
    expect([cut.isWhole, cut.words]).toEqual([
      false,
      'Cut short: 9 of the 12 entries that the anchor names are here',
    ]);
    expect(cut.anchor?.text).toBe('12:ab:cd:ef');
    expect(cut.anchor?.note).toContain('Signed with key cd');
    const held = chainModel({ entries: [], apart: [], verdict }, { ...anchor, state: 'holds' });
    expect([held.isWhole, held.words]).toEqual([true, '9 entries, each hash fits the next']);
  });

  it('counts what fits and what is set apart', () => {
    const broken = chainModel({
      entries: [],
      apart: [{}, {}],
      verdict: { goodCount: 7, firstBad: { index: 7, reason: 'hash' } },
    });
    expect(broken.isWhole).toBe(false);
    expect(broken.words).toBe('7 entries fit; 2 entries after that do not fit and are set apart');
  });
});
