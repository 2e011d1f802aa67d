import { useState } from 'react';
import { hasAgreed } from '../../outcomes/agreements.ts';
import { flagWords } from '../../words/outcome-words.ts';
import { Button, ButtonRow } from '../parts/Button.tsx';
import { useApp } from '../shared/session-context.ts';
import type { ReadFollowUps } from '../shared/use-follow-ups.ts';

/** Whether the lead may see the figures of the one who asks, and the way out of it. */
export function OwnAgreement(o: { readonly read: ReadFollowUps; readonly person: string }) {
  const { read, person } = o;
  const isReader = useApp((s) => s.standing !== 'writer');
  const [isLost, setLost] = useState(false);
  const isAgreed = hasAgreed(read.state.reviews.agreed, { person, to: 'own-figures' });
  const say = async (): Promise<void> => {
    const said = await read.followUps?.agree({ person, to: 'own-figures', isAgreed: !isAgreed });
    setLost(said?.ok !== true);
  };
  return (
    <div className="outcomes-form">
      <h3>{flagWords.agreeTitle}</h3>
      <p>{flagWords.agreeWhat}</p>
      <p role="status">{isAgreed ? flagWords.agreed : flagWords.notAgreed}</p>
      <ButtonRow>
        <Button disabled={isReader || read.followUps === null} onPress={() => void say()}>
          {isAgreed ? flagWords.agreeWithdraw : flagWords.agreeDo}
        </Button>
      </ButtonRow>
      {isLost && <p role="alert">{flagWords.agreeNotKept}</p>}
      <p className="lw-aside">{flagWords.agreeRules}</p>
      <p className="lw-aside">{flagWords.agreeWhere}</p>
    </div>
  );
}
