import { describe, expect, it } from 'vitest';
import composite from '../../shared/protocols/composite-inlay-onlay-dual-cured.json' with {
  type: 'json',
};
import invented from '../../shared/sheets/invented.json' with { type: 'json' };
import { addEdits, beginHistory, undoEdit } from '../../src/protocol/edit-history.ts';
import { itemAt } from '../../src/protocol/edit-types.ts';
import { parseProtocol } from '../../src/protocol/parse-protocol.ts';
import { editOfChange, lostSpots, sheetChanges } from '../../src/protocol/sheet-changes.ts';
import {
  addedLine,
  answerGone,
  answerOpen,
  answerSame,
  beginTyping,
  type DraftLine,
  goOnDraft,
  newSheetDraft,
  nextRevisionDraft,
  openLines,
  type SheetDraft,
  typeNumber,
  typeUnit,
  typeWords,
} from '../../src/protocol/sheet-draft.ts';
import { readSheetEntry, wordsWith } from '../../src/protocol/sheet-entry.ts';
import { finishSheet, sheetProblems } from '../../src/protocol/sheet-finish.ts';
import { sheetPlaces } from '../../src/protocol/sheet-places.ts';
import { parseSheet } from '../../src/protocol/sheet-schema.ts';
import { proposedSpots, withLikePlaces } from '../../src/protocol/sheet-spots.ts';
import { type ProductSheet, type SheetLine, valueForKey } from '../../src/protocol/sheet-types.ts';
import type { Protocol } from '../../src/protocol/types.ts';
import { template } from '../lead/lead-support.ts';
import { etchingGelSheet } from './sheet-support.ts';

const READER = { by: 'Clinic lead C', on: '2026-11-29' };
const protocol = template();

const kept = (draft: SheetDraft): ProductSheet => {
  const sheet = finishSheet(draft);
  if (!sheet.ok) throw new Error(`${sheet.error.place}: ${sheet.error.came}`);
  return sheet.value;
};

const withLine = (draft: SheetDraft, id: string, change: (line: DraftLine) => DraftLine) => ({
  ...draft,
  lines: draft.lines.map((line) => (line.id === id ? change(line) : line)),
});

const revised = () => ({ ...nextRevisionDraft(etchingGelSheet()), revision: '2026-11' });

const faults = (draft: SheetDraft) =>
  sheetProblems(draft).map(({ line, field, fault }) => `${line ?? 'head'} ${field} ${fault}`);

describe('a number of a sheet as it is typed', () => {
  it.each([
    ['18', 's', 18],
    ['1,5', 'min', 1.5],
    ['90 s', 'min', 1.5],
    ['0:20', 's', 20],
    ['1 min 30 s', 's', 90],
    ['5', 'coats', 5],
    ['16', 'J/cm2', 16],
    ['1200', 'mW/cm2', 1200],
    ['-20', 'C', -20],
    ['18', 'months', 18],
  ] as const)('reads %s in %s as %d', (text, unit, value) => {
    expect(readSheetEntry(text, unit)).toEqual({ ok: true, value });
  });

  it.each([
    ['', 's', 'empty'],
    ['twenty', 's', 'not-a-duration'],
    ['0', 's', 'not-above-zero'],
    ['-5', 's', 'not-above-zero'],
    ['90 s', 'coats', 'not-a-number'],
    ['2.5', 'coats', 'not-whole'],
    ['20000', 's', 'too-large'],
    ['9999', 'J/cm2', 'too-large'],
    ['200', 'C', 'too-large'],
  ] as const)('refuses %s in %s: %s', (text, unit, error) => {
    expect(readSheetEntry(text, unit)).toEqual({ ok: false, error });
  });

  // The International System of Units (SI Brochure, 9th edition 2019, table 8): minute, hour, day.
  it.each([
    [20, 's', 'action.targetMs', 20_000],
    [1.5, 'min', 'maxMs', 90_000],
    [24, 'h', 'minMs', 86_400_000],
    [1, 'days', 'minMs', 86_400_000],
    [2, 'min', 'action.gapMsMin', 120_000],
    [5, 'coats', 'action.count', 5],
    [16, 'J/cm2', 'action.doseJPerCm2', 16],
    [5, 'coats', 'action.targetMs', null],
    [20, 's', 'action.count', null],
    [1200, 'mW/cm2', 'action.doseJPerCm2', null],
    [8, 'C', 'maxMs', null],
  ] as const)('%d %s stands at %s as %s', (value, unit, key, stands) => {
    expect(valueForKey({ value, unit }, key)).toBe(stands);
  });

  it('proposes the old words with the new number only where the old one stands in them once', () => {
    expect(wordsWith('Leave for 20 seconds.', { was: 20, now: 18 })).toBe('Leave for 18 seconds.');
    expect(wordsWith('Nach 1,5 min', { was: 1.5, now: 2.5 })).toBe('Nach 2,5 min');
    expect(wordsWith('20 s, never over 20 s', { was: 20, now: 18 })).toBe('20 s, never over 20 s');
    expect(wordsWith('Leave for 120 s', { was: 20, now: 18 })).toBe('Leave for 120 s');
  });
});

describe('a new revision of a sheet', () => {
  it('begins with every line open, and its own revision still to be typed', () => {
    const draft = nextRevisionDraft(etchingGelSheet());
    expect(draft.lines.every(({ answer }) => answer === 'open')).toBe(true);
    expect(openLines(draft)).toBe(etchingGelSheet().lines.length);
    expect(faults(draft)).toEqual(['head revision needed']);
    expect(faults({ ...draft, revision: '2026-04' })).toEqual(['head revision same-revision']);
  });

  it('carries along what nobody answered, read by nobody', () => {
    const sheet = kept(revised());
    expect(sheet.lines.map(({ value }) => value)).toEqual([30, 60, 15]);
    expect(sheet.lines.some(({ read }) => read !== undefined)).toBe(false);
  });

  it('keeps who said of which line that it is the same, and takes it back', () => {
    const draft = withLine(revised(), 'enamel', (line) => answerSame(line, READER));
    const [enamel, most] = kept(draft).lines;
    expect(enamel?.read).toEqual({ how: 'same', ...READER });
    expect(most?.read).toBeUndefined();
    expect(kept(withLine(draft, 'enamel', answerOpen)).lines[0]?.read).toBeUndefined();
  });

  it('takes a line out that the document has no more', () => {
    const draft = withLine(revised(), 'enamel', answerGone);
    expect(kept(draft).lines.map(({ id }) => id)).toEqual(['enamel-most', 'rinse']);
  });

  it('wants the words of the new revision behind a new number', () => {
    const typed = (change: (line: DraftLine) => DraftLine) =>
      withLine(revised(), 'enamel', (line) => change(beginTyping(line, READER)));
    expect(faults(typed((line) => line))).toEqual(['enamel text empty']);
    const proposal = typed((line) => typeNumber(line, '25', READER));
    expect(proposal.lines[0]?.asWritten).toBe('Leave on enamel for 25 seconds.');
    expect(faults(proposal)).toEqual(['enamel asWritten words-not-compared']);
    const compared = typed((line) => ({ ...typeNumber(line, '25', READER), areWordsRead: true }));
    expect(kept(compared).lines[0]).toMatchObject({
      value: 25,
      asWritten: 'Leave on enamel for 25 seconds.',
      read: { how: 'typed', ...READER },
    });
    // Nobody looked on which page of the new document the number stands.
    expect(kept(compared).lines[0]).not.toHaveProperty('page');
    const old = 'Leave on enamel for 30 seconds.';
    expect(faults(typed((line) => typeWords(typeNumber(line, '25', READER), old)))).toEqual([
      'enamel asWritten same-words',
    ]);
    const own = typed((line) => typeNumber(typeWords(line, 'Twenty-five.'), '25', READER));
    expect(kept(own).lines[0]?.asWritten).toBe('Twenty-five.');
  });

  it('wants words that give the number, as the checks of a protocol do', () => {
    const typed = (text: string, words: string) =>
      withLine(revised(), 'enamel', (line) =>
        typeWords(typeNumber(beginTyping(line, READER), text, READER), words),
      );
    expect(faults(typed('25', 'Leave for 52 s.'))).toEqual(['enamel asWritten other-number']);
    expect(faults(typed('25', 'Leave for 20 to 30 s.'))).toEqual([]);
    expect(faults(typed('25', 'Leave until it looks frosted.'))).toEqual([]);
  });

  it('ships an invented one without problems', () => {
    const [parsed] = invented.sheets.map(parseSheet);
    if (!parsed?.ok) throw new Error('no sheet');
    const typed = nextRevisionDraft(parsed.value).lines.map((line) =>
      typeWords(typeNumber(beginTyping(line, READER), line.text, READER), line.asWritten),
    );
    expect(faults({ ...nextRevisionDraft(parsed.value), revision: 'x', lines: typed })).toEqual([]);
  });

  it('follows the number that is typed digit by digit, until somebody types the words', () => {
    const typed = ['2', '25'].reduce(
      (line, text) => typeNumber(line, text, READER),
      beginTyping(revised().lines[0] as DraftLine, READER),
    );
    expect(typed.asWritten).toBe('Leave on enamel for 25 seconds.');
  });

  it('keeps the page of before only with the number of before', () => {
    const type = (line: DraftLine, ...texts: readonly string[]) =>
      texts.reduce((now, text) => typeNumber(now, text, READER), line);
    const begun = beginTyping(revised().lines[0] as DraftLine, READER);
    expect(type(begun, '2', '22').page).toBe('');
    expect(type(begun, '3', '30').page).toBe('2');
    // The same page, typed: it stays, whatever digit follows.
    expect(type({ ...type(begun, '2'), page: '2' }, '22').page).toBe('2');
    expect(type({ ...begun, page: '5' }, '2', '22').page).toBe('5');
    expect(typeUnit(type(begun, '3', '30'), 'min').page).toBe('');
  });

  it('finds a least above a most of the same thing', () => {
    const draft = withLine(revised(), 'enamel-most', (line) =>
      typeWords(typeNumber(beginTyping(line, READER), '20', READER), 'At most 20 s.'),
    );
    expect(faults(draft)).toEqual(['enamel text over-most']);
  });

  it('goes on with the same revision: what was read stays read', () => {
    const first = kept(withLine(revised(), 'enamel', (line) => answerSame(line, READER)));
    const draft = goOnDraft(first);
    expect(openLines(draft)).toBe(2);
    expect(kept(draft)).toEqual(first);
  });

  it.each([
    ['revision', { revision: '2026-12' }],
    ['document', { document: 'Another gel, instructions for use' }],
    ['class', { materialClass: 'hydrofluoric acid gel' }],
  ])('counts nothing as read in another %s but what is answered then', (_, change) => {
    const first = kept(withLine(revised(), 'enamel', (line) => answerSame(line, READER)));
    const draft = { ...goOnDraft(first), ...change };
    expect(openLines(draft)).toBe(3);
    expect(kept(draft).lines.map(({ read }) => read)).toEqual([undefined, undefined, undefined]);
    const later = { by: 'Clinic lead C', on: '2026-12-01' };
    const again = withLine(draft, 'enamel', (line) => answerSame(line, later));
    expect(kept(again).lines[0]?.read).toEqual({ how: 'same', ...later });
    // A slip that is taken back costs nothing.
    const { revision, document, materialClass } = first;
    expect(kept({ ...draft, revision, document, materialClass })).toEqual(first);
  });
});

describe('a new sheet', () => {
  it('says field by field what is missing', () => {
    const line = addedLine({ id: 'line-1', group: 'etch', unit: 's' });
    expect(faults({ ...newSheetDraft('sheet-1'), date: '2026-02-30', lines: [line] })).toEqual([
      'head materialClass needed',
      'head document needed',
      'head revision needed',
      'head date no-date',
      'line-1 text empty',
      'line-1 asWritten needed',
    ]);
  });

  it('keeps device identifiers once each', () => {
    const draft = { ...revised(), identifiers: ' 09506000134352\n09506000134352 A1B2 ' };
    expect(kept(draft).deviceIdentifiers).toEqual(['09506000134352', 'A1B2']);
  });

  it('is refused from outside with the place', () => {
    const parsed = parseSheet({ ...etchingGelSheet(), lines: [{ id: 'x' }] });
    expect(parsed.ok ? '' : parsed.error[0].place).toBe('sheet.lines[0].group');
    const [line] = etchingGelSheet().lines;
    expect(parseSheet({ ...etchingGelSheet(), lines: [line, line] }).ok).toBe(false);
  });
});

describe('where a line may stand', () => {
  const of = (line: Partial<DraftLine>) => {
    const [first] = revised().lines;
    return proposedSpots(protocol, {
      materialClass: 'phosphoric acid gel, 30 to 40 %',
      line: { ...(first as DraftLine), spots: [], ...line },
    });
  };
  const names = (found: ReturnType<typeof of>) =>
    found.map(({ place: { spot } }) => `${spot.id} ${spot.key}`);

  it('puts the fitting numbers first, those with the same value before the others', () => {
    const found = of({ bound: 'target', text: '30' });
    expect(names(found)[0]).toMatch(/ action\.targetMs$/);
    const fitting = found.filter(({ fits }) => fits);
    expect(names(fitting)).toContain('etch action.targetMs');
    expect(names(fitting)).not.toContain('etch-rinse action.targetMs');
    const same = fitting.map(({ isSameValue }) => isSameValue);
    expect(same).toEqual(same.toSorted((a, b) => Number(b) - Number(a)));
  });

  it('finds the rinse that follows the gel, and the least for a least', () => {
    const fitting = of({ group: 'rinse', bound: 'least', text: '10' }).filter(({ fits }) => fits);
    expect(names(fitting)).toContain('etch-rinse action.minMs');
    expect(names(fitting)).not.toContain('acid-rinse action.minMs');
  });

  it('says nothing of a protocol without the material, or of another quantity', () => {
    const line = { ...(revised().lines[0] as DraftLine), spots: [] };
    expect(proposedSpots(protocol, { materialClass: 'another class', line })).toEqual([]);
    expect(names(of({ group: 'storage', unit: 'C', text: '20' }))).toEqual([]);
  });
});

describe('a family that was made as a copy', () => {
  const copy = { ...protocol, id: 'our-veneers' };
  const materialClass = 'phosphoric acid gel, 30 to 40 %';

  it('gets the places that the lines have in the one that it was made from, once', () => {
    const { lines } = revised();
    const like = withLikePlaces(copy, { materialClass, lines });
    expect(like?.added).toBe(2);
    expect(like?.lines[0]?.spots).toEqual([
      ...(lines[0]?.spots ?? []),
      { protocol: 'our-veneers', part: 'steps', id: 'etch', key: 'action.targetMs', used: true },
    ]);
    expect(like?.lines[2]).toBe(lines[2]);
    const again = withLikePlaces(copy, { materialClass, lines: like?.lines ?? [] });
    expect(again).toBeNull();
  });

  it('gets none where it does not use the material', () => {
    const { lines } = revised();
    expect(withLikePlaces(copy, { materialClass: 'another class', lines })).toBeNull();
  });
});

describe('what a sheet changes', () => {
  const read = () =>
    kept(
      withLine(
        withLine(revised(), 'enamel', (line) =>
          typeWords(typeNumber(beginTyping(line, READER), '25', READER), 'Leave for 25 seconds.'),
        ),
        'enamel-most',
        (line) => answerSame(line, READER),
      ),
    );

  it('names each place of each line that was read, and none of the others', () => {
    const changes = sheetChanges(protocol, read());
    expect(
      changes.map((c) => [
        c.spot.id,
        c.spot.key,
        c.before?.value,
        c.after.value,
        c.isNumberChanged,
      ]),
    ).toEqual([
      ['etch', 'action.targetMs', 30_000, 25_000, true],
      ['etch', 'action.maxMs', 60_000, 60_000, false],
    ]);
    expect(sheetChanges(protocol, kept(revised()))).toEqual([]);
  });

  it('writes number, document, page and words, each as an edit that Undo takes back alone', () => {
    const edits = sheetChanges(protocol, read()).map(editOfChange);
    const history = addEdits(beginHistory(protocol), edits);
    if (!history.ok) throw new Error(history.error.place);
    const action = itemAt(history.value.protocol, { part: 'steps', id: 'etch' });
    expect(action).toMatchObject({
      action: {
        targetMs: {
          value: 25_000,
          basis: {
            kind: 'instructions',
            document: 'Etching gel, instructions for use',
            revision: '2026-11',
            asWritten: 'Leave for 25 seconds.',
            confirmedBy: 'Clinic lead C',
            confirmedOn: '2026-11-29',
          },
        },
        maxMs: { value: 60_000, basis: { revision: '2026-11', asWritten: 'At most 60 s.' } },
      },
    });
    const undone = undoEdit(history.value);
    expect(itemAt(undone.protocol, { part: 'steps', id: 'etch' })).toMatchObject({
      action: { targetMs: { value: 25_000 }, maxMs: { basis: { kind: 'practice' } } },
    });
    expect(sheetChanges(history.value.protocol, read())).toEqual([]);
  });

  it('gives a step a limit that it had not, and finds no place that is gone', () => {
    const sheet = read();
    const spots = [
      { protocol: protocol.id, part: 'steps', id: 'etch-rinse', key: 'action.maxMs' },
      { protocol: protocol.id, part: 'steps', id: 'etched-twice', key: 'action.maxMs' },
    ] as const;
    const lines = sheet.lines.map((line) =>
      line.id === 'enamel-most' ? { ...line, spots } : line,
    );
    const [, rinse] = sheetChanges(protocol, { ...sheet, lines });
    if (rinse === undefined) throw new Error('no change');
    expect([rinse.before, rinse.after.value, rinse.isNumberChanged]).toEqual([null, 60_000, true]);
    const history = addEdits(beginHistory(protocol), [editOfChange(rinse)]);
    const step = history.ok && itemAt(history.value.protocol, { part: 'steps', id: 'etch-rinse' });
    expect(step).toMatchObject({ action: { maxMs: { value: 60_000 } } });
    expect(lostSpots(protocol, { ...sheet, lines })).toEqual([spots[1]]);
  });

  /** Etches for 18 s where dentine shows, and for 15 s where it is sealed. */
  const withVariants = (change: (etch: Record<string, unknown>) => void): Protocol => {
    const raw = structuredClone(composite);
    const etch = raw.steps.find(({ id }) => id === 'etch');
    if (etch === undefined) throw new Error('no etch');
    change(etch);
    const parsed = parseProtocol(raw);
    if (!parsed.ok) throw new Error(parsed.error[0]?.place);
    return parsed.value;
  };
  const drop = (index: number) => (etch: Record<string, unknown>) => {
    const { variants } = etch['action'] as { readonly variants: unknown[] };
    variants.splice(index, 1);
  };
  const ofVariant = (key: string) => {
    const whole = withVariants(() => undefined);
    const place = sheetPlaces(whole).find(({ spot }) => spot.id === 'etch' && spot.key === key);
    if (place === undefined) throw new Error('no place');
    const [enamel] = read().lines;
    return { ...read(), lines: [{ ...(enamel as SheetLine), spots: [place.spot] }] };
  };
  const [FIRST, SECOND] = ['action.variants.0.targetMs', 'action.variants.1.targetMs'] as const;

  it('stands at a variant by what the variant is for, not by its number', () => {
    const [sealed, shows] = [ofVariant(SECOND), ofVariant(FIRST)];
    const whole = withVariants(() => undefined);
    expect(sheetChanges(whole, sealed).map((c) => [c.spot.key, c.before?.value])).toEqual([
      [SECOND, 15_000],
    ]);
    expect(lostSpots(whole, sealed)).toEqual([]);
    const without = withVariants(drop(0));
    expect(sheetChanges(without, shows)).toEqual([]);
    expect(lostSpots(without, shows)).toEqual(shows.lines[0]?.spots);
    // The other one is the first now.
    expect(sheetChanges(without, sealed).map((c) => [c.spot.key, c.before?.value])).toEqual([
      [FIRST, 15_000],
    ]);
    expect(parseSheet(sealed)).toEqual({ ok: true, value: sealed });
  });

  it('calls a variant lost of which nobody said what it is for', () => {
    const [line] = ofVariant(FIRST).lines;
    const spots = (line?.spots ?? []).map(({ protocol: of, part, id, key }) => {
      return { protocol: of, part, id, key };
    });
    const sheet = { ...ofVariant(FIRST), lines: [{ ...(line as SheetLine), spots }] };
    expect(
      sheetChanges(
        withVariants(() => undefined),
        sheet,
      ),
    ).toEqual([]);
    expect(
      lostSpots(
        withVariants(() => undefined),
        sheet,
      ),
    ).toEqual(spots);
  });

  it('calls a place lost whose step uses another class of material by now', () => {
    const slots = protocol.slots.map((slot) =>
      slot.materialClass === read().materialClass
        ? { ...slot, materialClass: 'hydrofluoric acid gel' }
        : slot,
    );
    const now = { ...protocol, slots };
    expect(sheetChanges(now, read())).toEqual([]);
    expect(lostSpots(now, read()).map(({ key }) => key)).toEqual([
      'action.targetMs',
      'action.maxMs',
    ]);
    expect(lostSpots(protocol, read())).toEqual([]);
  });

  it('calls a place lost whose step alone uses another material by now', () => {
    const materialClass = read().materialClass;
    const [enamel] = revised().lines;
    const line = { ...(enamel as DraftLine), spots: [] };
    const ticked = proposedSpots(protocol, { materialClass, line }).flatMap(
      ({ place: { spot } }) => (spot.id === 'etch' && spot.key === 'action.targetMs' ? [spot] : []),
    );
    const [first] = read().lines;
    const sheet = { ...read(), lines: [{ ...(first as SheetLine), spots: ticked }] };
    expect(parseSheet(sheet)).toEqual({ ok: true, value: sheet });
    expect(sheetChanges(protocol, sheet)).toHaveLength(1);
    // Another step still uses the gel.
    const steps = protocol.steps.map((step) => {
      if (step.id === 'etch') return { ...step, uses: [] };
      const gel = protocol.slots.filter((slot) => slot.materialClass === materialClass);
      return step.id === 'etch-rinse' ? { ...step, uses: gel.map(({ id }) => id) } : step;
    });
    const now = { ...protocol, steps };
    expect(sheetChanges(now, sheet)).toEqual([]);
    expect(lostSpots(now, sheet)).toEqual(ticked);
  });

  it('loses no place of the sheet that ships: instructions also speak of what another material does', () => {
    const [parsed] = invented.sheets.map(parseSheet);
    if (!parsed?.ok) throw new Error('no sheet');
    const whole = withVariants(() => undefined);
    const spots = parsed.value.lines.flatMap((line) => line.spots);
    expect(spots.filter((spot) => spot.protocol === whole.id).length).toBeGreaterThan(10);
    expect(lostSpots(whole, parsed.value)).toEqual([]);
  });

  it('marks two lines that stand at one place with two numbers', () => {
    const sheet = read();
    const [enamel] = sheet.lines;
    if (enamel === undefined) throw new Error('no line');
    const twice = { ...sheet, lines: [...sheet.lines, { ...enamel, id: 'again', value: 20 }] };
    expect(sheetChanges(protocol, twice).flatMap((c) => (c.clashes ? [c.line.id] : []))).toEqual([
      'enamel',
      'again',
    ]);
  });
});
