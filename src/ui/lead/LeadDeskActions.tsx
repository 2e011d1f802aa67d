import { Link } from 'wouter';
import { leadWords } from '../../words/lead-words.ts';
import { Button } from '../parts/Button.tsx';
import { useLeadDesk } from './use-lead.ts';

/** The way back to the desk, and the button that closes it. */
export function LeadDeskActions(props: { readonly isHome?: boolean }) {
  const desk = useLeadDesk();
  return (
    <>
      {props.isHome !== true && (
        <Link href="/lead" className="lw-way">
          {leadWords.back}
        </Link>
      )}
      <Button onPress={() => void desk.close('by-hand')}>{leadWords.close}</Button>
    </>
  );
}
