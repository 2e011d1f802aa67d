import { useMemo, useState } from 'react';
import { Link, useLocation } from 'wouter';
import type { Problem } from '../../base/problem.ts';
import { problemLine } from '../../base/problem.ts';
import type { Result } from '../../base/result.ts';
import type { CorrectedProtocol } from '../../runtime/lead/lead-corrections.ts';
import { draftOf, takeOver } from '../../runtime/lead/take-over.ts';
import { correctionWords } from '../../words/correction-words.ts';
import { leadProblemWords, leadWords } from '../../words/lead-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Button, ButtonRow } from '../parts/Button.tsx';
import { Section } from '../parts/Page.tsx';
import { Frame } from '../shared/Frame.tsx';
import { shortHash } from '../shared/protocol-model.ts';
import { useFirstFault } from '../shared/use-first-fault.ts';
import { CorrectionItem } from './CorrectionItem.tsx';
import { CorrectionsOthers } from './CorrectionsOthers.tsx';
import {
  type Answer,
  type Chosen,
  type CorrectionRow,
  type CorrectionsPage,
  correctionsPage,
  outcomeOf,
} from './corrections-model.ts';
import { LeadDeskActions } from './LeadDeskActions.tsx';
import { useCorrections } from './use-corrections.ts';
import { useLead, useLeadDesk } from './use-lead.ts';

const NOTHING_CHOSEN: Chosen = { answers: new Map(), reasons: new Map(), others: new Set() };

/** What the template that ships now corrects in the revision in force, to be answered one by one. */
export function Corrections({ protocol }: { readonly protocol: string }) {
  const corrected = useCorrections().get(protocol);
  const read = useLead((s) => s.corrections);
  const title = useLead((s) => s.templates.find(({ id }) => id === protocol)?.title ?? protocol);
  return (
    <Frame
      place="protocols"
      title={correctionWords.title(corrected?.inForce.title ?? title)}
      actions={<LeadDeskActions />}
    >
      {!read.ok && (
        <Banner tone="broken" words={correctionWords.unreadable} advice={problemLine(read.error)} />
      )}
      {corrected === undefined ? (
        <Banner tone="plain" words={correctionWords.noRevision} />
      ) : (
        <Answering key={`${corrected.hash} ${corrected.kept.size}`} corrected={corrected} />
      )}
    </Frame>
  );
}

function Answering({ corrected }: { readonly corrected: CorrectedProtocol }) {
  const drafts = useLead((s) => s.drafts);
  const draft = draftOf(drafts, corrected.hash);
  const page = useMemo(() => correctionsPage(corrected, draft), [corrected, draft]);
  const [chosen, setChosen] = useState<Chosen>(NOTHING_CHOSEN);
  const { inForce, hash, templateHash } = corrected;
  const { body, tries, fail } = useFirstFault<HTMLDivElement>();
  const setAll = (answerOf: (row: CorrectionRow) => Answer, others: boolean): void =>
    setChosen({
      ...chosen,
      answers: new Map(page.rows.map((row) => [row.id, answerOf(row)])),
      others: new Set(others ? page.others.map(({ owner }) => owner) : []),
    });
  const part = (hurts: boolean) => page.rows.filter((row) => row.hurts === hurts);
  const items = (rows: readonly CorrectionRow[]) => (
    <ul className="compare">
      {rows.map((row) => (
        <CorrectionItem
          key={row.id}
          row={row}
          chosen={chosen}
          onChoose={setChosen}
          draft={draft}
          isTried={tries > 0}
        />
      ))}
    </ul>
  );
  if (page.rows.length + page.others.length === 0) {
    return <Banner tone="plain" words={correctionWords.none} />;
  }
  return (
    <div className="desk-answers" ref={body}>
      <p className="desk-lede">
        {correctionWords.lede({
          revision: inForce.revision,
          hash: shortHash(hash),
          template: shortHash(templateHash),
        })}
      </p>
      <ButtonRow>
        <Button onPress={() => setAll((row) => (row.hurts ? 'take' : 'later'), false)}>
          {correctionWords.takeHurting}
        </Button>
        <Button onPress={() => setAll(() => 'take', true)}>{correctionWords.takeAll}</Button>
        <Button onPress={() => setAll(() => 'later', false)}>{correctionWords.leaveAll}</Button>
      </ButtonRow>
      {part(true).length > 0 && (
        <Section title={correctionWords.couldHurt} lede={correctionWords.couldHurtLede}>
          {items(part(true))}
        </Section>
      )}
      {part(false).length > 0 && (
        <Section title={correctionWords.also}>{items(part(false))}</Section>
      )}
      <CorrectionsOthers others={page.others} chosen={chosen} onChoose={setChosen} />
      <Apply corrected={corrected} page={page} chosen={chosen} onFail={fail} />
    </div>
  );
}

/** Writes what was answered: into a draft what is taken over, into the log what is kept. */
function useWriting(corrected: CorrectedProtocol) {
  const desk = useLeadDesk();
  const [, navigate] = useLocation();
  const [refused, setRefused] = useState<string | null>(null);
  const { inForce, hash, template, templateHash } = corrected;
  const tell = <T,>(done: Result<T, Problem>): T | null => {
    if (done.ok) return done.value;
    const isUnfit = done.error.code === 'does-not-fit';
    setRefused(isUnfit ? correctionWords.doesNotFit : leadProblemWords(done.error));
    return null;
  };
  const write = async ({ taken, kept }: ReturnType<typeof outcomeOf>): Promise<void> => {
    setRefused(null);
    const draft =
      taken.length === 0
        ? null
        : tell(await takeOver(desk, { inForce, hash, template, changes: taken }));
    if (taken.length > 0 && draft === null) return;
    const answers = kept.map(({ row, reason }) => ({
      protocol: inForce.id,
      template: templateHash,
      place: row.id,
      title: row.change.title,
      reason,
    }));
    if (answers.length > 0) tell(await desk.keepOurs(answers));
    if (draft !== null) navigate(`/lead/draft/${draft}/effect`);
  };
  return { write, refused };
}

function Apply(props: {
  readonly corrected: CorrectedProtocol;
  readonly page: CorrectionsPage;
  readonly chosen: Chosen;
  /** Leads to the first answer that lacks its reason. */
  readonly onFail: () => void;
}) {
  const { corrected, page, chosen } = props;
  const outcome = useMemo(() => outcomeOf(page, chosen), [page, chosen]);
  const { write, refused } = useWriting(corrected);
  const { taken, kept, later, isReasonMissing } = outcome;
  const [hasFailed, setFailed] = useState(false);
  const isNothing = taken.length + kept.length === 0;
  const apply = (): void => {
    setFailed(true);
    if (isNothing || isReasonMissing) props.onFail();
    else void write(outcome);
  };
  return (
    <Section title={correctionWords.apply} lede={correctionWords.applyLede}>
      {refused !== null && <Banner tone="attention" words={leadWords.failed} advice={refused} />}
      {hasFailed && isNothing && !isReasonMissing && (
        <Banner tone="attention" words={correctionWords.nothingChosen} />
      )}
      <p>
        {correctionWords.summary({ take: taken.length, keep: kept.length, later })}{' '}
        {taken.length > 0 && correctionWords.along}{' '}
        {isReasonMissing && <strong>{correctionWords.reasonMissing}</strong>}
      </p>
      <div>
        <Button rank="main" onPress={apply}>
          {correctionWords.apply}
        </Button>
      </div>
    </Section>
  );
}

/** The row of a protocol on the desk: how much is open, and the way to it. */
export function CorrectionsLink({ protocol }: { readonly protocol: string }) {
  const corrected = useCorrections().get(protocol);
  if (corrected === undefined) return null;
  const { open, inForce, corrections, others } = corrected;
  if (corrections.length + others.length === 0) return null;
  const hurting = open.filter(({ hurts }) => hurts).length;
  return (
    <p className="standing desk-corrections" data-hurting={hurting > 0}>
      <Link
        href={`/lead/corrections/${protocol}`}
        aria-label={correctionWords.linkName(inForce.title)}
      >
        {correctionWords.link}
      </Link>
      <span>{correctionWords.counts({ count: open.length, hurting })}</span>
    </p>
  );
}
