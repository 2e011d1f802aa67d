/**
 * The only file that knows every part: it opens the journal, sets up what the tablet can do, hands
 * both to the session and draws the first screen.
 */
import './ui/theme/theme.css';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import correctionsUrl from '../shared/protocols/corrections.json?packed';
import blueLightUrl from '../shared/tables/blue-light-hazard.json?packed';
import crownsUrl from '../shared/tables/crown-dimensions.json?packed';
import ceramicsUrl from '../shared/tables/transmittances.json?packed';
import { present } from './base/assert.ts';
import { parsePlanTables } from './plan/plan-tables.ts';
import { LANGUAGE_WHEN_ABSENT } from './protocol/language-tag.ts';
import { trustOwnScripts } from './runtime/device/own-scripts.ts';
import { readShipped } from './runtime/library/read-shipped.ts';
import { LANGUAGE, TRANSLATIONS } from './runtime/library/shipped-language.ts';
import { toldChannel } from './runtime/sharing/told-channel.ts';
import { startApp } from './runtime/start-app.ts';
import { createIndexedDbJournal } from './storage/indexed-db-journal.ts';
import { createOpfsHome, hasPrivateFiles } from './storage/opfs-home.ts';
import { createStorageHeads } from './storage/storage-heads.ts';
import { createTabChannel } from './storage/tab-channel.ts';
import { WriterLock } from './storage/writer-lock.ts';
import { App } from './ui/app/App.tsx';
import { SessionContext } from './ui/shared/session-context.ts';
import { speak } from './words/language.ts';
import { spokenWords } from './words/spoken-words.ts';

trustOwnScripts(window);
speak(LANGUAGE, null);
const protocols = import.meta.glob(
  ['../shared/protocols/*.json', '!../shared/protocols/corrections.json'],
  {
    query: '?packed',
    import: 'default',
    eager: true,
  },
);
const cases = import.meta.glob('../demo-data/cases/*.json', {
  query: '?packed',
  import: 'default',
  eager: true,
});
const lots = import.meta.glob('../demo-data/stock.json', {
  query: '?packed',
  import: 'default',
  eager: true,
});
const [blueLight, ceramics, crowns] = await Promise.all(
  [blueLightUrl, ceramicsUrl, crownsUrl].map(readShipped),
);
const tables = parsePlanTables({ blueLight, crowns, ceramics });

const home = hasPrivateFiles() ? createOpfsHome() : null;

const told = toldChannel(createTabChannel('lutewatch-journal'));

const app = startApp({
  window,
  told,
  journal: createIndexedDbJournal({
    name: 'lutewatch',
    home,
    channel: told,
    heads: [createStorageHeads(() => window.localStorage), ...(home === null ? [] : [home.heads])],
  }),
  openSeat: (o) =>
    new WriterLock({
      locks: navigator.locks,
      channel: new BroadcastChannel('lutewatch-writer'),
      tabId: o.tabId,
      onAsked: o.onAsked,
      onState: (state) => {
        if (state === 'lost') void app.session.loseSeat();
      },
    }),
  shipped: {
    protocols: await Promise.all(Object.values(protocols).map(readShipped)),
    cases: await Promise.all(Object.values(cases).map(readShipped)),
    stock: (await Promise.all(Object.values(lots).map(readShipped)))[0],
    corrections: () => readShipped(correctionsUrl),
    tables: tables.ok ? tables.value : null,
  },
  isProduction: import.meta.env.PROD,
  wordsOf: spokenWords,
});

const root = createRoot(present(document.getElementById('root'), 'the element with id root'));
const draw = (): void =>
  root.render(
    <StrictMode>
      <SessionContext value={{ session: app.session, tablet: app.tablet, planner: app.planner }}>
        <App />
      </SessionContext>
    </StrictMode>,
  );

// What ships is written in English: only another language asks for translations. Their file needs
// this one, so awaiting it here would wait for ever.
if (LANGUAGE === LANGUAGE_WHEN_ABSENT) draw();
else {
  void import('./runtime/library/translations.ts')
    .then(({ bringTranslations }) => bringTranslations(TRANSLATIONS, LANGUAGE))
    .finally(draw);
}
