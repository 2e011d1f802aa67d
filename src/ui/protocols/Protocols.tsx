import { Link } from 'wouter';
import { leadWords } from '../../words/lead-words.ts';
import { protocolWords } from '../../words/protocol-words.ts';
import { toldProtocol } from '../../words/told-protocol.ts';
import { EmptyState } from '../parts/Banner.tsx';
import { StateMark } from '../parts/StateMark.tsx';
import { Frame } from '../shared/Frame.tsx';
import { shortHash } from '../shared/protocol-model.ts';
import { useApp } from '../shared/session-context.ts';
import '../shared/protocols.css';

/** Every protocol of this tablet with its standing. */
export function Protocols() {
  const entries = useApp((s) => s.protocols);
  const told = entries.map((entry) => ({ ...entry, protocol: toldProtocol(entry.protocol) }));
  return (
    <Frame
      place="protocols"
      title={protocolWords.title}
      lede={protocolWords.lede}
      actions={
        <Link href="/lead" className="lw-way">
          {leadWords.link}
        </Link>
      }
    >
      {entries.length === 0 ? (
        <EmptyState words={protocolWords.none} advice={protocolWords.noneTodo} />
      ) : (
        <ul className="protocols">
          {told.map(({ protocol, hash, approval, origin }) => (
            <li key={hash}>
              <h2>
                <Link href={`/protocols/${protocol.id}`}>{protocol.title}</Link>
              </h2>
              <p className="standing" data-confirmed={approval !== null}>
                <StateMark shape={approval === null ? 'part' : 'full'} />
                <strong>
                  {approval === null ? protocolWords.unconfirmed : protocolWords.confirmed}
                </strong>
                <span>{protocolWords.origins[origin]}</span>
                <span>{protocolWords.revision(protocol.revision)}</span>
                <span>
                  {protocolWords.counts({
                    steps: protocol.steps.length,
                    windows: protocol.windows.length,
                  })}
                </span>
                <span>{protocolWords.hash(shortHash(hash))}</span>
              </p>
              <p className="protocols-summary">{protocol.summary}</p>
            </li>
          ))}
        </ul>
      )}
    </Frame>
  );
}
