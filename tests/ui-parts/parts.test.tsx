// @vitest-environment jsdom
// Names follow the accessible name computation that Testing Library implements (W3C accname 1.2);
// every state must be told in words, whatever its colour.
import { render, screen, within } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { beforeAll, describe, expect, it, vi } from 'vitest';
import { Arch, type ArchTooth } from '../../src/ui/parts/Arch.tsx';
import { ArchPicker } from '../../src/ui/parts/ArchPicker.tsx';
import { Banner } from '../../src/ui/parts/Banner.tsx';
import { ChairClock } from '../../src/ui/parts/ChairClock.tsx';
import { CueCard, CueStack } from '../../src/ui/parts/CueCard.tsx';
import { TextField } from '../../src/ui/parts/Field.tsx';
import { Gauge } from '../../src/ui/parts/Gauge.tsx';
import { PlaceNav } from '../../src/ui/parts/Page.tsx';
import { PressBar } from '../../src/ui/parts/PressBar.tsx';
import { Segmented, Stepper } from '../../src/ui/parts/Segmented.tsx';
import { Sheet } from '../../src/ui/parts/Sheet.tsx';
import { StatusRail } from '../../src/ui/parts/StatusRail.tsx';
import { NextLine, StepHeading } from '../../src/ui/parts/StepHeading.tsx';
import { Table } from '../../src/ui/parts/Table.tsx';
import { UndoEnd } from '../../src/ui/parts/UndoEnd.tsx';
import { WindowList } from '../../src/ui/parts/WindowList.tsx';

const nothing = (): void => undefined;
const exact = (ms: number) => ({ elapsedLoMs: ms, elapsedHiMs: ms });
const etch = (ms: number) => ({
  kind: 'dwell' as const,
  ...exact(ms),
  floorMs: 15_000,
  targetMs: 20_000,
  rimMs: 30_000,
});

beforeAll(() => {
  // jsdom has the dialog element but not its modal behaviour.
  HTMLDialogElement.prototype.showModal = function showModal(): void {
    this.open = true;
  };
  HTMLDialogElement.prototype.close = function close(): void {
    this.open = false;
    this.dispatchEvent(new Event('close'));
  };
});

const plain = (text: string | null | undefined): string => (text ?? '').replaceAll('\u00a0', ' ');

describe('Gauge', () => {
  it.each([
    [0, 'not started'],
    [9_000, 'under the minimum'],
    [17_000, 'within the limits'],
    [22_000, 'past the target'],
    [36_000, 'over the limit'],
  ])('at %d ms says that it is %s', (ms, phase) => {
    render(<Gauge {...etch(ms)} size="small" label="Etch 12" />);
    const name = plain(screen.getByRole('img').getAttribute('aria-label'));
    expect(name).toMatch(/^Etch 12: /);
    expect(name).toContain(phase);
  });

  it('spills hatched only over its rim', () => {
    const { container, rerender } = render(<Gauge {...etch(29_000)} size="large" />);
    expect(container.querySelector('.lw-gauge-spill')).toBeNull();
    rerender(<Gauge {...etch(31_000)} size="large" />);
    expect(container.querySelector('.lw-gauge-spill')?.getAttribute('fill')).toMatch(/hatch/);
  });

  it('is silent beside words that already say it', () => {
    render(<Gauge {...etch(9_000)} size="stroke" decorative />);
    expect(screen.queryByRole('img')).toBeNull();
  });
});

describe('ChairClock', () => {
  it('names what it times, the figure and its words', () => {
    render(<ChairClock label="Etch on 12" {...etch(14_000)} />);
    expect(screen.getByRole('timer', { name: 'Etch on 12: 0:06 to target' })).toBeDefined();
  });

  it('counts on past the limit with a plus sign and words', () => {
    render(<ChairClock label="Etch on 12" {...etch(42_000)} />);
    expect(screen.getByRole('timer', { name: 'Etch on 12: +0:12 over' })).toBeDefined();
  });

  it('shows an interval with its reason', () => {
    render(
      <ChairClock
        label="Etch on 12"
        {...etch(0)}
        elapsedLoMs={11_000}
        elapsedHiMs={16_000}
        reason="The tablet slept for 5 s"
      />,
    );
    expect(screen.getByText('The tablet slept for 5 s')).toBeDefined();
    expect(screen.getByRole('timer').textContent).toContain('0:04\u20130:09');
  });
});

const tooth = (id: string, rest: Partial<ArchTooth> = {}): ArchTooth => ({
  id,
  label: id,
  word: 'waiting',
  state: 'waiting',
  progress: 0,
  active: false,
  ...rest,
});

describe('Arch', () => {
  it("stands the patient's right on the left, whatever the order given", () => {
    const { container } = render(
      <Arch teeth={['21', '13', '11', '41', '22', '33', '12'].map((id) => tooth(id))} />,
    );
    const labels = [...container.querySelectorAll('.lw-tooth-label')].map((el) => el.textContent);
    expect(labels).toEqual(['13', '12', '11', '21', '22', '41', '33']);
  });

  it('says tooth, state word and exposed surfaces', () => {
    render(
      <Arch
        teeth={[
          tooth('12', {
            word: 'exposing',
            state: 'running',
            active: true,
            surfaces: [
              { id: 'facial', state: 'done' },
              { id: 'incisal', state: 'running' },
              { id: 'lingual', state: 'waiting' },
            ],
          }),
          tooth('11', { word: '6 s over', state: 'over' }),
        ]}
      />,
    );
    const active = screen.getByRole('img', {
      name: 'Tooth 12, exposing, 1 of 3 surfaces exposed',
    });
    expect(active.getAttribute('aria-current')).toBe('step');
    expect(screen.getByRole('img', { name: 'Tooth 11, 6 s over' })).toBeDefined();
  });

  it.each(['done', 'skipped', 'voided'] as const)('draws a shape of its own for %s', (state) => {
    const { container } = render(<Arch teeth={[tooth('11', { state, word: state })]} />);
    expect(container.querySelector('.lw-crown-check, .lw-crown-strike')).not.toBeNull();
  });

  it('shows the notation of the person and reports the designation', async () => {
    const chosen = vi.fn();
    render(<Arch teeth={[tooth('12', { label: '7' })]} onSelect={chosen} />);
    await userEvent.click(screen.getByRole('button', { name: 'Tooth 7, waiting' }));
    expect(chosen).toHaveBeenCalledWith('12');
  });
});

describe('PressBar', () => {
  it('says what it records and reports one press', async () => {
    const pressed = vi.fn();
    render(<PressBar words="Gel on 12" subWords="in 8 s" urgency="ready" onPress={pressed} />);
    await userEvent.click(screen.getByRole('button', { name: /Gel on 12/ }));
    expect(pressed).toHaveBeenCalledTimes(1);
  });

  it('takes no press while the last one is being recorded, and says so', async () => {
    const pressed = vi.fn();
    render(<PressBar words="Gel on 12" urgency="due" pending onPress={pressed} />);
    const bar = screen.getByRole('button', { name: /recording/ });
    await userEvent.click(bar);
    expect(pressed).not.toHaveBeenCalled();
    expect(bar.getAttribute('aria-busy')).toBe('true');
  });

  it('looks pressed as soon as it is touched', async () => {
    render(<PressBar words="Gel on 12" urgency="ready" onPress={nothing} />);
    const user = userEvent.setup();
    const bar = screen.getByRole('button');
    await user.pointer({ keys: '[MouseLeft>]', target: bar });
    expect(bar.dataset['pressed']).toBe('true');
    await user.pointer({ keys: '[/MouseLeft]', target: bar });
    expect(bar.dataset['pressed']).toBe('false');
  });

  it('ignores the repeats of a key that is held down', async () => {
    const pressed = vi.fn();
    render(<PressBar words="Gel on 12" urgency="ready" onPress={pressed} />);
    screen.getByRole('button').focus();
    await userEvent.keyboard('{Enter>5/}');
    expect(pressed).toHaveBeenCalledTimes(1);
  });

  it('undo says what it takes back and keeps its place when there is nothing', async () => {
    const undone = vi.fn();
    const { rerender } = render(
      <UndoEnd what="Gel on 12" remainingMs={7_200} spanMs={10_000} onUndo={undone} />,
    );
    const undo = screen.getByRole('button');
    expect(plain(undo.getAttribute('aria-label'))).toBe('Undo Gel on 12, 8 s left');
    await userEvent.click(undo);
    expect(undone).toHaveBeenCalledTimes(1);
    rerender(<UndoEnd remainingMs={0} spanMs={10_000} onUndo={undone} />);
    await userEvent.click(screen.getByRole('button', { name: 'Nothing to undo' }));
    expect(undone).toHaveBeenCalledTimes(1);
  });
});

describe('running clocks and alerts', () => {
  it('keeps every clock in its own row with what it protects', () => {
    render(
      <WindowList
        clocks={[
          {
            id: 'a',
            label: 'light shield 12',
            level: 'calm',
            times: { kind: 'window', ...exact(10_000), rimMs: 60_000 },
          },
          {
            id: 'b',
            label: 'working time portion 1',
            level: 'broken',
            times: { kind: 'window', ...exact(72_000), rimMs: 60_000 },
          },
        ]}
      />,
    );
    const rows = within(screen.getByRole('list', { name: 'Running clocks' })).getAllByRole(
      'listitem',
    );
    expect(rows.map((row) => row.textContent)).toEqual([
      'light shield 12left in window0:50',
      'working time portion 1over+0:12',
    ]);
  });

  it('several alerts stay several, each with its own button', async () => {
    const seen = vi.fn();
    render(
      <CueStack>
        <CueCard kind="now" words="Rinse 12 now" ageMs={2_000} onAcknowledge={nothing} />
        <CueCard kind="broken" words="Mix 1 is over" ageMs={12_000} onAcknowledge={seen} />
      </CueStack>,
    );
    expect(screen.getAllByRole('article')).toHaveLength(2);
    expect(plain(screen.getAllByRole('article')[1]?.textContent)).toContain('12 s ago');
    await userEvent.click(screen.getByRole('button', { name: 'Seen: Mix 1 is over' }));
    expect(seen).toHaveBeenCalledTimes(1);
  });
});

describe('state of the tablet', () => {
  it('says good and bad in words', () => {
    const { rerender } = render(<StatusRail saved screenHeld soundOn />);
    const items = () => screen.getAllByRole('listitem').map((item) => item.textContent);
    expect(items()).toEqual(['SAVED', 'SCREEN STAYS ON', 'SOUND ON']);
    rerender(<StatusRail saved={false} screenHeld={false} soundOn={false} rehearsalSpeed={10} />);
    expect(items()).toEqual(['REHEARSAL 10×', 'NOT SAVED', 'SCREEN MAY SLEEP', 'SOUND OFF']);
  });

  it('marks what can be relied on and what cannot, and nothing else', () => {
    const others = [
      { id: 'numbering', words: 'FDI', good: null },
      { id: 'copies', words: 'ONE COPY', good: false },
    ];
    render(<StatusRail saved screenHeld soundOn others={others} />);
    const marked = (words: string) => screen.getByText(words).querySelector('svg') !== null;
    expect(['SAVED', 'FDI', 'ONE COPY'].map(marked)).toEqual([true, false, true]);
  });

  it('interrupts a screen reader only for what is broken', () => {
    render(<Banner tone="broken" words="Presses are not being saved" />);
    expect(screen.getByRole('alert').textContent).toContain('not being saved');
  });
});

describe('headings and controls', () => {
  it('reads step and tooth as one heading', () => {
    render(<StepHeading doing="Rinse" subject="12" />);
    expect(screen.getByRole('heading', { level: 1, name: 'Rinse 12' })).toBeDefined();
  });

  it('tells what comes next', () => {
    const { container } = render(<NextLine words="Rinse 11" when="in 8 s" />);
    expect(container.textContent).toBe('NextRinse 11in 8 s');
  });

  it('ties hint, read-back and problem to the field', () => {
    render(
      <TextField
        label="Etch"
        value="x"
        onChange={nothing}
        hint="Seconds"
        readBack="1 min"
        problem="Expected a number"
      />,
    );
    const field = screen.getByRole('textbox', { name: 'Etch' });
    const notes = (field.getAttribute('aria-describedby') ?? '')
      .split(' ')
      .map((id) => document.getElementById(id)?.textContent);
    expect(notes).toEqual(['Seconds', '1 min', 'Expected a number']);
    expect(field.getAttribute('aria-invalid')).toBe('true');
  });

  it('chooses one of few by its words', async () => {
    const chosen = vi.fn();
    render(
      <Segmented
        label="Screen"
        value="light"
        options={[
          { value: 'light', label: 'Light' },
          { value: 'amber', label: 'Amber' },
        ]}
        onChange={chosen}
      />,
    );
    await userEvent.click(screen.getByRole('radio', { name: 'Amber' }));
    expect(chosen).toHaveBeenCalledWith('amber');
  });

  it('names both buttons of a stepper after its figure', () => {
    render(<Stepper label="units" shown="8" onLess={nothing} onMore={nothing} atLeast />);
    expect(screen.getByRole<HTMLButtonElement>('button', { name: 'Less units' }).disabled).toBe(
      true,
    );
    expect(screen.getByRole('button', { name: 'More units' })).toBeDefined();
  });

  it('marks the present place and follows a press', async () => {
    const gone = vi.fn();
    render(
      <PlaceNav
        currentId="today"
        onNavigate={gone}
        places={[
          { id: 'today', label: 'Today', href: '/', count: 2, countWords: '2 due' },
          { id: 'plan', label: 'Plan', href: '/plan' },
        ]}
      />,
    );
    expect(screen.getByRole('link', { name: /Today/ }).getAttribute('aria-current')).toBe('page');
    expect(screen.getByRole('link', { name: /2 due/ })).toBeDefined();
    await userEvent.click(screen.getByRole('link', { name: 'Plan' }));
    expect(gone).toHaveBeenCalledWith('/plan');
  });

  it('a sheet is a named dialog that closes by its word', async () => {
    const closed = vi.fn();
    render(
      <Sheet open title="Change the order" onClose={closed}>
        <p>21 first</p>
      </Sheet>,
    );
    expect(screen.getByRole('dialog', { name: 'Change the order' })).toBeDefined();
    await userEvent.click(screen.getByRole('button', { name: 'Close' }));
    expect(closed).toHaveBeenCalledTimes(1);
  });

  it('a table names its rows and says when it is empty', () => {
    const columns = [
      { id: 'n', label: 'Window', heads: true, cell: (row: { n: string }) => row.n },
      { id: 'l', label: 'Limit', figures: true, cell: () => '3 min' },
    ];
    const { rerender } = render(
      <Table caption="Windows" columns={columns} rows={[{ n: 'Shield' }]} rowId={(row) => row.n} />,
    );
    expect(screen.getByRole('rowheader', { name: 'Shield' })).toBeDefined();
    rerender(
      <Table caption="Windows" columns={columns} rows={[]} rowId={(row) => row.n} empty="None" />,
    );
    expect(screen.getByText('None')).toBeDefined();
  });
});

describe('ArchPicker', () => {
  const setUp = (toggled: (id: string) => void) =>
    render(
      <ArchPicker
        label="Teeth of this case"
        selected={['11']}
        labelOf={(id) => `#${id}`}
        nameOf={() => 'a tooth'}
        disabledIds={['18']}
        onToggle={toggled}
      />,
    );

  it('offers 32 toggle buttons, told in the notation of the person', () => {
    setUp(nothing);
    expect(screen.getAllByRole('button')).toHaveLength(32);
    const chosen = screen.getByRole('button', { name: 'Tooth #11, a tooth' });
    expect(chosen.getAttribute('aria-pressed')).toBe('true');
    expect(
      screen.getByRole<HTMLButtonElement>('button', { name: 'Tooth #18, a tooth' }).disabled,
    ).toBe(true);
  });

  it('is walked with arrow keys over the midline and between the jaws', async () => {
    const toggled = vi.fn();
    setUp(toggled);
    await userEvent.tab();
    await userEvent.keyboard('{ArrowRight}{ArrowRight}{ArrowDown} ');
    expect(toggled).toHaveBeenCalledWith('32');
  });

  it('takes one stop in the tab order', () => {
    setUp(nothing);
    const stops = screen.getAllByRole('button').filter((button) => button.tabIndex === 0);
    expect(stops).toHaveLength(1);
  });
});
