import { useState } from 'react';
import { UTC_ZONE } from '../../words/zone.ts';
import { zoneWords } from '../../words/zone-words.ts';
import { Button } from '../parts/Button.tsx';
import { TextField } from '../parts/Field.tsx';
import { Sheet } from '../parts/Sheet.tsx';
import { useTablet } from '../shared/session-context.ts';
import type { SettingsPartProps } from './settings-part.ts';
import { zoneNow, zonesFound } from './zone-model.ts';

/** Zones drawn at once; another letter finds what is left out. */
const SHOWN_MAX = 60;

/** The zone in which every time is told, and the way to another one. */
export function ClinicZone({ settings, onChange }: SettingsPartProps) {
  const tablet = useTablet();
  const [isOpen, setOpen] = useState(false);
  return (
    <div className="clinic-zone">
      <p className="lw-field-label">{zoneWords.zone}</p>
      <p>{zoneNow(settings.zone, tablet.wallNowMs())}</p>
      <p className="lw-field-hint">{zoneWords.zoneHint}</p>
      <div>
        <Button onPress={() => setOpen(true)}>{zoneWords.change}</Button>
      </div>
      {isOpen && (
        <ZoneSheet
          nowMs={tablet.wallNowMs()}
          onClose={() => setOpen(false)}
          onChoose={(zone) => {
            onChange({ zone });
            setOpen(false);
          }}
        />
      )}
    </div>
  );
}

function ZoneSheet(props: {
  readonly nowMs: number;
  readonly onClose: () => void;
  readonly onChoose: (zone: string) => void;
}) {
  const [search, setSearch] = useState('');
  // Not every engine lists the zone that needs no rules.
  const all = [...new Set([...Intl.supportedValuesOf('timeZone'), UTC_ZONE])];
  const found = zonesFound(all, search);
  return (
    <Sheet open title={zoneWords.zone} onClose={props.onClose}>
      <TextField
        label={zoneWords.find}
        hint={zoneWords.findHint}
        type="search"
        value={search}
        onChange={setSearch}
      />
      {found.length === 0 && <p role="status">{zoneWords.none}</p>}
      <ul className="clinic-zones">
        {found.slice(0, SHOWN_MAX).map((zone) => (
          <li key={zone}>
            <Button rank="quiet" onPress={() => props.onChoose(zone)}>
              {zoneNow(zone, props.nowMs)}
            </Button>
          </li>
        ))}
      </ul>
      {found.length > SHOWN_MAX && <p>{zoneWords.more(found.length - SHOWN_MAX)}</p>}
    </Sheet>
  );
}
