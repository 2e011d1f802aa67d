import { damageLines, damageWords } from '../../words/damage-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Button } from '../parts/Button.tsx';
import { useApp, useSession } from './session-context.ts';

/** What is missing on this tablet, until a person has seen it; and what one copy gave the other. */
export function DamageBanners() {
  const session = useSession();
  const damage = useApp((s) => s.damage);
  const isWriter = useApp((s) => s.standing === 'writer');
  const mended = useApp((s) => s.report?.mended ?? 0);
  const lines = damageLines(damage);
  return (
    <>
      {lines.length > 0 && !damage.isNoted && (
        <Banner
          tone="broken"
          words={damageWords.title}
          advice={[...lines, damageWords.todo].join(' ')}
          action={
            isWriter && (
              <Button onPress={() => void session.noteDamage()}>{damageWords.noted}</Button>
            )
          }
        />
      )}
      {mended > 0 && <Banner tone="attention" words={damageWords.mended(mended)} />}
    </>
  );
}
