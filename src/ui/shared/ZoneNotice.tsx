import { isSameZone } from '../../words/zone.ts';
import { zoneWords } from '../../words/zone-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { useApp } from './session-context.ts';

/** One line where the tablet's own clock is set to another zone than the clinic's. */
export function ZoneNotice() {
  const clinic = useApp((s) => s.settings.zone);
  const tablet = useApp((s) => s.tablet.zone);
  if (isSameZone(clinic, tablet)) return null;
  return <Banner tone="plain" words={zoneWords.differs({ tablet, clinic })} />;
}
