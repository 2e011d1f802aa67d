import { Link } from 'wouter';
import { sharingLinkWords } from '../../words/sharing-link-words.ts';
import { Section } from '../parts/Page.tsx';
import { TABLETS } from './tablets/places.ts';

/** The way to the tablets of the clinic. */
export function ClinicTablets() {
  return (
    <Section title={sharingLinkWords.title} lede={sharingLinkWords.lede}>
      <p>
        <Link className="lw-way" href={TABLETS}>
          {sharingLinkWords.link}
        </Link>
      </p>
    </Section>
  );
}
