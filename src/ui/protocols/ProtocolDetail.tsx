import { Link } from 'wouter';
import type { ProtocolEntry } from '../../runtime/app-state.ts';
import { basisWords } from '../../words/basis-words.ts';
import { protocolWords } from '../../words/protocol-words.ts';
import { toldProtocol } from '../../words/told-protocol.ts';
import { Banner, CautionNote, EmptyState } from '../parts/Banner.tsx';
import { Facts } from '../parts/Facts.tsx';
import { Section } from '../parts/Page.tsx';
import { Frame } from '../shared/Frame.tsx';
import { ProtocolLanguage } from '../shared/ProtocolLanguage.tsx';
import { ProtocolPicture } from '../shared/ProtocolPicture.tsx';
import { sequenceOf, shortHash, stepTitles } from '../shared/protocol-model.ts';
import { useApp, useTimes } from '../shared/session-context.ts';
import { ProtocolNumbers } from './ProtocolNumbers.tsx';
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
      <Section title={protocolWords.picture} lede={protocolWords.pictureLede}>
        <ProtocolPicture sequence={sequenceOf(protocol)} />
      </Section>
      <ProtocolNumbers protocol={protocol} />
      <WaysBack entry={entry} />
      <Around entry={entry} />
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
            by: approval.by,
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

function WaysBack({ entry }: { readonly entry: ProtocolEntry }) {
  const { waysBack, sources } = entry.protocol;
  const titleOf = stepTitles(entry.protocol);
  if (waysBack.length === 0) return null;
  return (
    <Section title={protocolWords.waysBack} lede={protocolWords.waysBackLede}>
      <ul className="protocols-ways">
        {waysBack.map((way) => {
          return (
            <li key={way.id}>
              <h3>{way.title}</h3>
              <p className="lw-aside">
                {protocolWords.mishapOf({
                  mishap: protocolWords.mishaps[way.mishap],
                  per: protocolWords.scopes[way.per],
                })}
              </p>
              <p>{way.proposal}</p>
              {way.voids.length > 0 && (
                <p>{protocolWords.again(way.voids.map((v) => titleOf(v.step)))}</p>
              )}
              <p className="lw-aside">{basisWords(way.basis, sources).whole}</p>
            </li>
          );
        })}
      </ul>
    </Section>
  );
}

function Around({ entry }: { readonly entry: ProtocolEntry }) {
  const { cautions, slots, sources } = entry.protocol;
  return (
    <>
      <Section title={protocolWords.cautions}>
        <div className="protocols-cautions">
          {cautions.map((caution) => (
            <CautionNote key={caution.id}>{caution.words}</CautionNote>
          ))}
        </div>
      </Section>
      <Section title={protocolWords.materials}>
        <Facts
          facts={slots.map((slot) => ({
            id: slot.id,
            label: slot.label,
            value: slot.materialClass,
            note: slot.refrigerated ? protocolWords.cold : undefined,
          }))}
        />
      </Section>
      <Section title={protocolWords.sources}>
        <ul className="protocols-sources">
          {sources.map((source) => (
            <li key={source.id}>
              {source.citation}
              {source.doi !== undefined && (
                <span className="lw-aside"> {protocolWords.doi(source.doi)}</span>
              )}
            </li>
          ))}
        </ul>
      </Section>
    </>
  );
}
