import { Link } from 'wouter';
import type { ProtocolEntry } from '../../runtime/app-state.ts';
import { approvers } from '../../words/approval-words.ts';
import { protocolWords } from '../../words/protocol-words.ts';
import { toldProtocol } from '../../words/told-protocol.ts';
import { Banner, EmptyState } from '../parts/Banner.tsx';
import { Frame } from '../shared/Frame.tsx';
import { ProtocolLanguage } from '../shared/ProtocolLanguage.tsx';
import { ProtocolRead } from '../shared/ProtocolRead.tsx';
import { shortHash } from '../shared/protocol-model.ts';
import { useApp, useTimes } from '../shared/session-context.ts';
import '../shared/protocols.css';

/** One protocol to read: its sequence as a picture, every number with its basis. */
export function ProtocolDetail({ id }: { readonly id: string }) {
  const stored = useApp((s) => s.protocols.find((p) => p.protocol.id === id));
  if (!stored) {
    return (
      <Frame place="protocols" title={protocolWords.title}>
        <EmptyState
          words={protocolWords.gone}
          advice={protocolWords.goneTodo}
          action={<Link href="/protocols">{protocolWords.back}</Link>}
        />
      </Frame>
    );
  }
  const protocol = toldProtocol(stored.protocol);
  const entry = { ...stored, protocol };
  return (
    <Frame
      place="protocols"
      title={protocol.title}
      lede={protocol.summary}
      actions={
        <Link href="/protocols" className="lw-way">
          {protocolWords.back}
        </Link>
      }
    >
      <Standing entry={entry} />
      <ProtocolLanguage protocol={stored.protocol} />
      <ProtocolRead protocol={protocol} />
    </Frame>
  );
}

function Standing({ entry }: { readonly entry: ProtocolEntry }) {
  const times = useTimes();
  const { approval, hash, origin, protocol } = entry;
  return (
    <div className="protocols-head">
      {approval === null ? (
        <Banner
          tone="attention"
          words={protocolWords.unconfirmedWhat}
          advice={protocolWords.unconfirmedTodo}
        />
      ) : (
        <Banner
          tone="plain"
          words={protocolWords.confirmedWhat({
            by: approvers(approval),
            on: times.moment(approval.onWallMs),
          })}
        />
      )}
      <p className="standing">
        <span>{protocolWords.origins[origin]}</span>
        <span>{protocolWords.revision(protocol.revision)}</span>
        <span title={hash}>{protocolWords.hash(shortHash(hash))}</span>
      </p>
    </div>
  );
}
