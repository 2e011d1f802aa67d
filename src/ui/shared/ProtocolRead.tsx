import type { Protocol } from '../../protocol/types.ts';
import { basisWords } from '../../words/basis-words.ts';
import { protocolWords } from '../../words/protocol-words.ts';
import { CautionNote } from '../parts/Banner.tsx';
import { Facts } from '../parts/Facts.tsx';
import { Section } from '../parts/Page.tsx';
import { ProtocolNumbers } from './ProtocolNumbers.tsx';
import { ProtocolPicture } from './ProtocolPicture.tsx';
import { sequenceOf, stepTitles } from './protocol-model.ts';
import './protocols.css';

/** All of a protocol to read: its sequence as a picture, every number with its basis, and what stands around it. */
export function ProtocolRead({ protocol }: { readonly protocol: Protocol }) {
  return (
    <>
      <Section title={protocolWords.picture} lede={protocolWords.pictureLede}>
        <ProtocolPicture sequence={sequenceOf(protocol)} />
      </Section>
      <ProtocolNumbers protocol={protocol} />
      <WaysBack protocol={protocol} />
      <Around protocol={protocol} />
    </>
  );
}

function WaysBack({ protocol }: { readonly protocol: Protocol }) {
  const { waysBack, sources } = protocol;
  const titleOf = stepTitles(protocol);
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

function Around({ protocol }: { readonly protocol: Protocol }) {
  const { cautions, slots, sources } = protocol;
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
