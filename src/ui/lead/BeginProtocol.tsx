import { useState } from 'react';
import { useLocation } from 'wouter';
import type { Problem } from '../../base/problem.ts';
import type { Result } from '../../base/result.ts';
import { blankProtocol, copyOf } from '../../protocol/new-protocol.ts';
import type { Protocol } from '../../protocol/types.ts';
import { protocolHash } from '../../runtime/lead/lead-documents.ts';
import { familyWords } from '../../words/family-words.ts';
import { formTextProblem } from '../../words/form-words.ts';
import { Button, ButtonRow } from '../parts/Button.tsx';
import { SelectField, TextField } from '../parts/Field.tsx';
import { Sheet } from '../parts/Sheet.tsx';
import { shortHash } from '../shared/protocol-model.ts';
import { useApp } from '../shared/session-context.ts';
import { keptForms, useKept } from './editor/editor-kept.ts';
import { SHEETS } from './lead-places.ts';
import { useLead, useLeadDesk } from './use-lead.ts';

type Act = <T>(deed: Promise<Result<T, Problem>>) => Promise<T | null>;

interface Begun {
  readonly way: 'blank' | 'copy';
  readonly title: string;
  readonly summary: string;
  /** Hash of the protocol that is copied; empty for the first of the list. */
  readonly source: string;
}

const BEGUN = keptForms<Begun | null>();

interface CopySource {
  readonly hash: string;
  readonly protocol: Protocol;
  readonly isShipped: boolean;
}

/** What can be copied: what is in force here, and what ships where that is another document. */
function useSources(): readonly CopySource[] {
  const entries = useApp((s) => s.protocols);
  const templates = useLead((s) => s.templates);
  const own = entries.map(({ hash, protocol, origin }) => ({
    hash,
    protocol,
    isShipped: origin === 'template',
  }));
  const shipped = templates
    .map((protocol) => ({ hash: protocolHash(protocol), protocol, isShipped: true }))
    .filter(({ hash }) => own.every((other) => other.hash !== hash));
  return [...own, ...shipped];
}

/** Everything that has an id of a protocol already. */
function useKnown(): readonly Protocol[] {
  const entries = useApp((s) => s.protocols);
  const templates = useLead((s) => s.templates);
  const revisions = useLead((s) => s.revisions);
  const drafts = useLead((s) => s.drafts);
  return [
    ...entries.map(({ protocol }) => protocol),
    ...templates,
    ...revisions.map(({ protocol }) => protocol),
    ...drafts.flatMap(({ start, history }) => [start, history.protocol]),
  ];
}

/** A new family: blank, or a copy under another name. */
export function BeginProtocol({ act }: { readonly act: Act }) {
  const open = useKept(BEGUN, '', () => null);
  const [, navigate] = useLocation();
  const begin = (way: Begun['way']) => (): void =>
    open.set({ way, title: '', summary: '', source: '' });
  return (
    <>
      <ButtonRow>
        <Button onPress={() => navigate(SHEETS)}>{familyWords.begin.sheet}</Button>
        <Button onPress={begin('blank')}>{familyWords.begin.blank}</Button>
        <Button onPress={begin('copy')}>{familyWords.begin.copy}</Button>
      </ButtonRow>
      {open.value !== null && (
        <BeginSheet begun={open.value} set={open.set} onClose={() => open.set(null)} act={act} />
      )}
    </>
  );
}

const isSame = (a: string, b: string): boolean => a.toLowerCase() === b.toLowerCase();

interface Beginning {
  readonly sources: readonly CopySource[];
  readonly titleProblem: string | undefined;
  readonly summaryProblem: string | undefined;
  /** The draft, and the hash of what it is a copy of. Null while something is wrong. */
  readonly make: () => { readonly start: Protocol; readonly copied: string } | null;
}

function useBeginning(begun: Begun): Beginning {
  const sources = useSources();
  const known = useKnown();
  const title = begun.title.trim();
  const summary = begun.summary.trim();
  const isBlank = begun.way === 'blank';
  const isTaken = known.some((protocol) => isSame(protocol.title, title));
  const titleProblem = isTaken
    ? familyWords.begin.titleTaken
    : formTextProblem('protocol', 'title', title);
  const summaryProblem = isBlank ? formTextProblem('protocol', 'summary', summary) : undefined;
  const make: Beginning['make'] = () => {
    if (titleProblem !== undefined || summaryProblem !== undefined) return null;
    if (isBlank) return { start: blankProtocol({ title, summary, known }), copied: '' };
    const source = sources.find(({ hash }) => hash === begun.source) ?? sources[0];
    if (source === undefined) return null;
    return { start: copyOf(source.protocol, { title, known }), copied: source.hash };
  };
  return { sources, titleProblem, summaryProblem, make };
}

function BeginSheet(props: {
  readonly begun: Begun;
  readonly set: (begun: Begun) => void;
  readonly onClose: () => void;
  readonly act: Act;
}) {
  const { begun, set, onClose, act } = props;
  const desk = useLeadDesk();
  const [, navigate] = useLocation();
  const [isTried, setTried] = useState(false);
  const { make, sources, titleProblem, summaryProblem } = useBeginning(begun);
  const words = familyWords.begin;
  const begin = async (): Promise<void> => {
    setTried(true);
    const made = make();
    if (made === null) return;
    const id = await act(desk.beginDraft(made.start, made.copied));
    if (id === null) return;
    onClose();
    navigate(`/lead/draft/${id}/head`);
  };
  return (
    <Sheet
      open
      title={words[begun.way]}
      onClose={onClose}
      foot={
        <Button rank="main" onPress={() => void begin()}>
          {words.begin}
        </Button>
      }
    >
      <p className="desk-lede">{words.lede[begun.way]}</p>
      {begun.way === 'copy' && (
        <SelectField
          label={words.source}
          value={begun.source || (sources[0]?.hash ?? '')}
          options={sources.map(({ hash, protocol, isShipped }) => ({
            value: hash,
            label: isShipped
              ? words.shipped(protocol.title)
              : words.own({ title: protocol.title, hash: shortHash(hash) }),
          }))}
          onChange={(source) => set({ ...begun, source })}
        />
      )}
      <TextField
        label={words.title}
        value={begun.title}
        problem={isTried || begun.title !== '' ? titleProblem : undefined}
        onChange={(title) => set({ ...begun, title })}
      />
      {begun.way === 'blank' && (
        <TextField
          label={words.summary}
          hint={words.summaryHint}
          lines={3}
          value={begun.summary}
          problem={isTried ? summaryProblem : undefined}
          onChange={(summary) => set({ ...begun, summary })}
        />
      )}
    </Sheet>
  );
}
