import { useState } from 'react';
import { usesOfWayBack } from '../../../protocol/edit-uses.ts';
import type { WayBack } from '../../../protocol/types.ts';
import { aroundWords } from '../../../words/around-words.ts';
import { Button } from '../../parts/Button.tsx';
import { TextField } from '../../parts/Field.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { keptForms, useKept } from './editor-kept.ts';
import type { OpenDraft } from './open-draft.ts';

const REASONS = keptForms<string>();

/** Takes a way back out, with the reason that the difference and the log then tell. */
export function EditorTakeOut(props: {
  readonly draft: OpenDraft;
  readonly way: WayBack;
  readonly onClose: () => void;
}) {
  const { draft, way } = props;
  const reason = useKept(REASONS, `${draft.saved.id} out ${way.id}`, () => '');
  const [isTried, setTried] = useState(false);
  const named = usesOfWayBack(draft.protocol, way.id).map(({ title }) => title);
  const text = reason.value.trim();
  const close = (): void => {
    reason.forget();
    props.onClose();
  };
  const takeOut = (): void => {
    setTried(true);
    if (text === '') return;
    if (draft.edit({ do: 'remove', part: 'waysBack', id: way.id, reason: text })) close();
  };
  return (
    <Sheet
      open
      title={aroundWords.takeOutSheet(way.title)}
      onClose={close}
      foot={
        <Button rank="main" onPress={takeOut}>
          {aroundWords.takeOut}
        </Button>
      }
    >
      {named.length > 0 && <p>{aroundWords.takeOutNamed(named)}</p>}
      <TextField
        label={aroundWords.takeOutReason}
        hint={aroundWords.takeOutHint}
        lines={2}
        value={reason.value}
        problem={isTried && text === '' ? aroundWords.takeOutMissing : undefined}
        onChange={reason.set}
      />
    </Sheet>
  );
}
