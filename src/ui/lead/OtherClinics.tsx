import { useState } from 'react';
import { Link } from 'wouter';
import type { ProtocolDraft } from '../../runtime/lead/lead-drafts.ts';
import { pickedText } from '../../runtime/lead/lead-protocol-file.ts';
import { leadProblemWords, leadWords } from '../../words/lead-words.ts';
import { otherClinicsWords } from '../../words/other-clinics-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Field } from '../parts/Field.tsx';
import { Section } from '../parts/Page.tsx';
import { Frame } from '../shared/Frame.tsx';
import { LeadDeskActions } from './LeadDeskActions.tsx';
import { OTHER_CLINICS } from './lead-places.ts';
import { OtherClinicsCompare } from './OtherClinicsCompare.tsx';
import { useCameIn } from './use-came-in.ts';
import { useLead, useLeadDesk } from './use-lead.ts';

/** Files in, and the way to compare what came with what is here. */
export function OtherClinics(props: { readonly draft: string | undefined }) {
  const drafts = useLead((s) => s.drafts);
  const imported = drafts.filter((draft) => draft.origin === 'import');
  const compared = imported.find((draft) => draft.id === props.draft);
  if (compared !== undefined) return <OtherClinicsCompare key={compared.id} draft={compared} />;
  return (
    <Frame
      place="protocols"
      title={otherClinicsWords.title}
      lede={otherClinicsWords.lede}
      actions={<LeadDeskActions />}
    >
      <TakeIn />
      <Section title={otherClinicsWords.waiting} lede={otherClinicsWords.hearsay}>
        {imported.length === 0 ? (
          <p className="lw-aside">{otherClinicsWords.none}</p>
        ) : (
          <ul className="desk-list">
            {imported.map((draft) => (
              <ImportedRow key={draft.id} draft={draft} />
            ))}
          </ul>
        )}
      </Section>
      <Section title={otherClinicsWords.send} lede={otherClinicsWords.sendLede}>
        <Link className="lw-way" href="/lead">
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
  const cameIn = useCameIn();
  const same = draft === undefined ? null : cameIn(draft).same;
  const take = async (file: File | undefined): Promise<void> => {
    if (file === undefined) return;
    const text = await pickedText(file);
    const imported = text.ok ? await desk.importText(text.value) : text;
    setRefused(imported.ok ? null : leadProblemWords(imported.error));
    setTaken(imported.ok ? imported.value : null);
  };
  return (
    <Section title={otherClinicsWords.take}>
      {refused !== null && (
        <Banner tone="attention" words={otherClinicsWords.refused} advice={refused} />
      )}
      {draft !== undefined && (
        <Banner
          tone="plain"
          words={otherClinicsWords.taken(draft.start.title)}
          advice={otherClinicsWords.hash(draft.startHash)}
        />
      )}
      {same !== null && <Banner tone="attention" words={same} />}
      <Field label={otherClinicsWords.file} hint={otherClinicsWords.fileHint}>
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

function ImportedRow({ draft }: { readonly draft: ProtocolDraft }) {
  const { lines } = useCameIn()(draft);
  return (
    <li className="desk-row">
      <div>
        <h3>{draft.history.protocol.title}</h3>
        <ul className="came-in">
          {lines.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
        <p className="lw-aside desk-hash">{otherClinicsWords.hash(draft.startHash)}</p>
      </div>
      <div className="desk-links">
        <Link
          className="lw-way"
          href={`${OTHER_CLINICS}/${draft.id}`}
          aria-label={otherClinicsWords.compareName(draft.history.protocol.title)}
        >
          {otherClinicsWords.compare}
        </Link>
        <Link className="lw-way" href={`/lead/draft/${draft.id}`}>
          {otherClinicsWords.toDraft}
        </Link>
      </div>
    </li>
  );
}
