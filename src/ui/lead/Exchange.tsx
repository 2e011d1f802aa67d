import { useState } from 'react';
import { Link } from 'wouter';
import type { Draft } from '../../runtime/lead/lead-drafts.ts';
import { exchangeWords } from '../../words/exchange-words.ts';
import { leadProblemWords, leadWords } from '../../words/lead-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Field } from '../parts/Field.tsx';
import { Section } from '../parts/Page.tsx';
import { Frame } from '../shared/Frame.tsx';
import { ExchangeMerge } from './ExchangeMerge.tsx';
import { LeadDeskActions } from './LeadDeskActions.tsx';
import { useLead, useLeadDesk } from './use-lead.ts';

/** Files in, and the way to merge what came with what is here. */
export function Exchange(props: { readonly draft: string | undefined }) {
  const drafts = useLead((s) => s.drafts);
  const imported = drafts.filter((draft) => draft.origin === 'import');
  const merging = imported.find((draft) => draft.id === props.draft);
  if (merging !== undefined) return <ExchangeMerge key={merging.id} draft={merging} />;
  return (
    <Frame
      place="protocols"
      title={exchangeWords.title}
      lede={exchangeWords.lede}
      actions={<LeadDeskActions />}
    >
      <TakeIn />
      <Section title={exchangeWords.waiting} lede={exchangeWords.hearsay}>
        {imported.length === 0 ? (
          <p className="desk-quiet">{exchangeWords.none}</p>
        ) : (
          <ul className="desk-list">
            {imported.map((draft) => (
              <ImportedRow key={draft.id} draft={draft} />
            ))}
          </ul>
        )}
      </Section>
      <Section title={exchangeWords.send} lede={exchangeWords.sendLede}>
        <Link className="desk-back" href="/lead">
          {leadWords.back}
        </Link>
      </Section>
    </Frame>
  );
}

function TakeIn() {
  const desk = useLeadDesk();
  const [refused, setRefused] = useState<string | null>(null);
  const [taken, setTaken] = useState<string | null>(null);
  const draft = useLead((s) => s.drafts.find((d) => d.id === taken));
  const take = async (file: File | undefined): Promise<void> => {
    if (file === undefined) return;
    const imported = await desk.importText(await file.text());
    setRefused(imported.ok ? null : leadProblemWords(imported.error));
    setTaken(imported.ok ? imported.value : null);
  };
  return (
    <Section title={exchangeWords.take}>
      {refused !== null && (
        <Banner tone="attention" words={exchangeWords.refused} advice={refused} />
      )}
      {draft !== undefined && (
        <Banner
          tone="plain"
          words={exchangeWords.taken(draft.start.title)}
          advice={exchangeWords.hash(draft.startHash)}
        />
      )}
      <Field label={exchangeWords.file} hint={exchangeWords.fileHint}>
        {(control) => (
          <input
            {...control}
            className="desk-file"
            type="file"
            accept="application/json,.json"
            onChange={(event) => {
              void take(event.target.files?.[0]);
              // The same file can be chosen again after it was put right.
              event.target.value = '';
            }}
          />
        )}
      </Field>
    </Section>
  );
}

function ImportedRow({ draft }: { readonly draft: Draft }) {
  return (
    <li className="desk-row">
      <div>
        <h3>{draft.history.protocol.title}</h3>
        <p className="desk-quiet">{exchangeWords.hash(draft.startHash)}</p>
      </div>
      <div className="desk-links">
        <Link href={`/lead/exchange/${draft.id}`}>{exchangeWords.merge}</Link>
        <Link href={`/lead/draft/${draft.id}`}>{exchangeWords.toDraft}</Link>
      </div>
    </li>
  );
}
