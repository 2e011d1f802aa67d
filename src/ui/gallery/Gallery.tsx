import { type ReactNode, useState } from 'react';
import type { Urgency } from '../../words/part-words.ts';
import { Arch } from '../parts/Arch.tsx';
import { ArchPicker } from '../parts/ArchPicker.tsx';
import { Banner, CautionNote, EmptyState } from '../parts/Banner.tsx';
import { Button, ButtonRow } from '../parts/Button.tsx';
import { ChairClock } from '../parts/ChairClock.tsx';
import { Disclosure, Facts } from '../parts/Facts.tsx';
import { SelectField, TextField } from '../parts/Field.tsx';
import { Gauge } from '../parts/Gauge.tsx';
import type { GaugeTimes } from '../parts/gauge-geometry.ts';
import { Page, PlaceNav, Section } from '../parts/Page.tsx';
import { PressBar } from '../parts/PressBar.tsx';
import { Check, Segmented, Stepper } from '../parts/Segmented.tsx';
import { Sheet } from '../parts/Sheet.tsx';
import { StatusRail } from '../parts/StatusRail.tsx';
import { Table } from '../parts/Table.tsx';
import { UndoEnd } from '../parts/UndoEnd.tsx';
import { WindowStrip } from '../parts/WindowList.tsx';
import {
  ChairExample,
  etchingTeeth,
  exposedTeeth,
  fullArch,
  runningClocks,
} from './chair-examples.tsx';
import './gallery.css';

const nothing = (): void => undefined;

const PLACES = [
  'Today',
  'Set-up',
  'Plan',
  'Chair',
  'FarView',
  'Record',
  'Protocols',
  'Materials',
  'Clinic',
].map((label) => ({
  id: label,
  label,
  href: `#${label}`,
  ...(label === 'Today' ? { count: 2, countWords: '2 due' } : {}),
}));

interface Example {
  readonly caption: string;
  readonly times: GaugeTimes;
  readonly reason?: string;
}

const dwell = (lo: number, hi = lo): GaugeTimes => ({
  kind: 'dwell',
  elapsedLoMs: lo,
  elapsedHiMs: hi,
  floorMs: 15_000,
  targetMs: 20_000,
  rimMs: 30_000,
});

const GAUGES: readonly Example[] = [
  { caption: 'not started', times: dwell(0) },
  { caption: 'under the floor', times: dwell(9_000) },
  { caption: 'floor to target', times: dwell(17_500) },
  { caption: 'past target', times: dwell(25_000) },
  { caption: 'interval', times: dwell(11_000, 21_000), reason: 'The tablet slept for 10 s' },
  { caption: 'over', times: dwell(36_000) },
  {
    caption: 'window',
    times: { kind: 'window', elapsedLoMs: 62_000, elapsedHiMs: 62_000, rimMs: 180_000 },
  },
  {
    caption: 'hold',
    times: { kind: 'hold', elapsedLoMs: 52e6, elapsedHiMs: 52e6, floorMs: 86_400_000 },
  },
  {
    caption: 'held',
    times: { kind: 'hold', elapsedLoMs: 9e7, elapsedHiMs: 9e7, floorMs: 86_400_000 },
  },
];

function Gauges() {
  return (
    <Section title="Gauge" lede="Floor notch, target line, rim. One drawing in every size.">
      {(['large', 'small', 'stroke'] as const).map((size) => (
        <div key={size} className="gallery-gauges" data-size={size}>
          {GAUGES.map((example) => (
            <figure key={example.caption}>
              <Gauge {...example.times} size={size} label={example.caption} />
              <figcaption>{example.caption}</figcaption>
            </figure>
          ))}
        </div>
      ))}
      <div className="gallery-lanes">
        {GAUGES.slice(1, 6).map((example) => (
          <Gauge
            key={example.caption}
            {...example.times}
            size="small"
            orientation="lying"
            lengthPx={300}
            label={example.caption}
          />
        ))}
      </div>
    </Section>
  );
}

function Clocks() {
  return (
    <Section title="Chair clock">
      <div className="gallery-clocks">
        {GAUGES.map((example) => (
          <ChairClock
            key={example.caption}
            label={example.caption}
            {...example.times}
            {...(example.reason === undefined ? {} : { reason: example.reason })}
          />
        ))}
      </div>
    </Section>
  );
}

function Arches() {
  return (
    <Section title="Arch">
      <Arch teeth={exposedTeeth} />
      <Arch teeth={etchingTeeth.slice(2, 4)} />
      <Arch teeth={fullArch} onSelect={nothing} />
    </Section>
  );
}

const BARS: readonly (readonly [Urgency, string, string | undefined])[] = [
  ['ready', 'Gel on 12', undefined],
  ['early', 'Rinse 12', '8 s early'],
  ['due', 'Rinse 12', 'now'],
  ['over', 'Rinse 21', '6 s over'],
];

function Bars() {
  const undo = (
    <UndoEnd what="Coat 3 of 5 on 12" remainingMs={6_400} spanMs={10_000} onUndo={nothing} />
  );
  return (
    <Section title="Press bar">
      <div className="gallery-stack">
        {BARS.map(([urgency, words, subWords]) => (
          <PressBar
            key={urgency}
            words={words}
            subWords={subWords}
            urgency={urgency}
            onPress={nothing}
            undo={undo}
          />
        ))}
        <PressBar words="Gel on 11" urgency="ready" pending onPress={nothing} undo={undo} />
        <PressBar
          words="Seat 11"
          urgency="ready"
          pressed
          leftHanded
          onPress={nothing}
          undo={<UndoEnd remainingMs={0} spanMs={10_000} onUndo={nothing} />}
        />
        <PressBar
          words="Journal is read in another window"
          subWords="This one only shows"
          urgency="ready"
          blocked
          onPress={nothing}
        />
      </div>
    </Section>
  );
}

function Status() {
  return (
    <Section title="State, banners, cautions">
      <StatusRail saved screenHeld soundOn />
      <StatusRail
        saved={false}
        screenHeld={false}
        soundOn={false}
        rehearsalSpeed={60}
        others={[{ id: 'copy', words: 'ONE COPY', good: false }]}
      />
      <Banner tone="plain" words="Finishing visit of chart 0417 opens at 14:20" />
      <Banner
        tone="attention"
        words="Protocol is not confirmed"
        advice="The clinic lead confirms every number first. A rehearsal can run."
        action={<Button>Open the protocol</Button>}
      />
      <Banner
        tone="broken"
        words="Presses are not being saved"
        advice="The clocks go on. Keep this screen open."
      />
      <CautionNote source="Common practice, no source">
        Wear eye protection. Keep the amber shield between the light and every eye in the room.
      </CautionNote>
      <WindowStrip clocks={runningClocks} />
      <EmptyState
        words="No case is prepared for today"
        advice="Set one up, or open a rehearsal to try the chair screen."
        action={<Button rank="main">Set up a case</Button>}
      />
    </Section>
  );
}

function Controls() {
  const [theme, setTheme] = useState<'light' | 'dark' | 'amber'>('light');
  const [ticked, setTicked] = useState(true);
  const [open, setOpen] = useState(false);
  return (
    <Section title="Controls">
      <ButtonRow>
        <Button rank="main" onPress={() => setOpen(true)}>
          Open a sheet
        </Button>
        <Button>Add a unit</Button>
        <Button on>Chosen</Button>
        <Button rank="quiet">Show the source</Button>
        <Button rank="grave">Delete the case</Button>
        <Button disabled>Not now</Button>
      </ButtonRow>
      <div className="gallery-form">
        <TextField
          label="Etch, target"
          value="1:30"
          onChange={nothing}
          width="short"
          hint="Seconds, or minutes and seconds"
          readBack="1 min 30 s"
        />
        <TextField
          label="Room temperature"
          value="twenty"
          onChange={nothing}
          width="short"
          unit="°C"
          problem="Expected a number, such as 21"
        />
        <SelectField
          label="Restoration"
          value="veneer"
          onChange={nothing}
          options={[{ value: 'veneer', label: 'Thin ceramic veneer' }]}
        />
        <Stepper label="Units" shown="8" onLess={nothing} onMore={nothing} />
        <Segmented
          label="Screen"
          value={theme}
          onChange={setTheme}
          options={[
            { value: 'light', label: 'Light' },
            { value: 'dark', label: 'Dark' },
            { value: 'amber', label: 'Amber' },
          ]}
        />
        <Check
          label="Eye protection for everyone"
          note="Patient, dentist, assistant"
          checked={ticked}
          onChange={setTicked}
        />
      </div>
      <Facts
        size="large"
        facts={[
          { id: 'teeth', label: 'Teeth', value: '12, 11, 21, 22' },
          {
            id: 'etch',
            label: 'Etch on enamel',
            value: '20 s',
            note: 'Product instructions, page 3',
          },
        ]}
      />
      <Disclosure summary="How this was computed" open>
        <p>Radiant exposure divided by irradiance. Product instructions win.</p>
      </Disclosure>
      <Table
        caption="Windows of the case"
        rowId={(row) => row.name}
        rows={[
          { name: 'Light shield, units 12 to 22', limit: '30 min', margin: '+4 min 10 s' },
          { name: 'Working time, mix 1', limit: '3 min', margin: '+38 s' },
          { name: 'Wet surface 21', limit: '1 min', margin: '\u221212 s' },
        ]}
        columns={[
          { id: 'name', label: 'Window', cell: (row) => row.name, heads: true },
          { id: 'limit', label: 'Limit', cell: (row) => row.limit, figures: true },
          { id: 'margin', label: 'Margin', cell: (row) => row.margin, figures: true },
        ]}
      />
      <Sheet
        open={open}
        title="Change the order"
        onClose={() => setOpen(false)}
        foot={<Button rank="main">Seat 21 first</Button>}
      >
        <p>11 has not been loaded yet. 21 can go first; mix 1 still fits.</p>
      </Sheet>
    </Section>
  );
}

function Picker() {
  const [selected, setSelected] = useState<readonly string[]>(['12', '11', '21', '22', '44']);
  return (
    <Section title="Choosing teeth">
      <ArchPicker
        label="Teeth of this case"
        selected={selected}
        labelOf={(id) => id}
        disabledIds={['18', '28']}
        onToggle={(id) =>
          setSelected((chosen) =>
            chosen.includes(id) ? chosen.filter((other) => other !== id) : [...chosen, id],
          )
        }
      />
    </Section>
  );
}

const PARTS: Readonly<Record<string, () => ReactNode>> = {
  chair: () => <ChairExample alarms={false} />,
  alarms: () => <ChairExample alarms />,
  gauges: () => <Gauges />,
  clocks: () => <Clocks />,
  arches: () => <Arches />,
  bars: () => <Bars />,
  status: () => <Status />,
  controls: () => <Controls />,
  picker: () => <Picker />,
};

/** Every part in every state, for looking at them. `part` shows one group alone. */
export function Gallery(props: { readonly part?: string | undefined }) {
  const only = props.part === undefined ? undefined : PARTS[props.part];
  if (props.part === 'chair' || props.part === 'alarms') return only?.();
  return (
    <Page
      title="Parts"
      lede="Every part of the screens, in every state."
      nav={<PlaceNav places={PLACES} currentId="Chair" onNavigate={nothing} />}
      status={<StatusRail saved screenHeld soundOn />}
    >
      {only === undefined
        ? Object.entries(PARTS).map(([name, show]) => <div key={name}>{show()}</div>)
        : only()}
    </Page>
  );
}
