import { memo } from 'react';
import { holdsPen } from '../../engine/pen.ts';
import type { Offer } from '../../engine/view-types.ts';
import type { RunningCase } from '../../runtime/app-state.ts';
import { chairWords } from '../../words/chair-words.ts';
import { impliedWords, offerWords } from '../../words/offer-words.ts';
import { Button } from '../parts/Button.tsx';
import { Late } from '../parts/Late.tsx';
import { PressBar } from '../parts/PressBar.tsx';
import { namingOf } from '../shared/arch-model.ts';
import { useApp, useTablet } from '../shared/session-context.ts';
import { ChairEnds } from './ChairEnds.tsx';
import { ClosedBar } from './ClosedBar.tsx';
import {
  alternatives,
  type BarModel,
  barModel,
  isHandOverAsked,
  wayBackAtBar,
} from './chair-model.ts';
import { ChairAtHand, ChairAtOnce, ChairGap, Coach, PenBar } from './late-parts.ts';
import type { SheetName } from './sheets/sheet-name.ts';

const AtHand = memo(ChairAtHand);
const Ends = memo(ChairEnds);

/** The bar, what stands above it for the same moment, and its end. */
export function ChairBar(o: {
  readonly running: RunningCase;
  readonly around: RunningCase;
  readonly onOpen: (name: SheetName) => void;
}) {
  const { running } = o;
  const tablet = useTablet();
  const leftHanded = useApp((s) => s.settings.leftHanded);
  const ownId = useApp((s) => s.settings.tablet);
  const naming = namingOf(running);
  const { finished, offers, attention } = running.view;
  const { asked, inHand } = attention;
  const implied = asked !== null || inHand === null ? null : impliedWords(inHand, naming);
  const model = barModel(running);
  const press = (offer: Offer | undefined) => {
    tablet.door.press(offer);
  };
  if (running.isViewOnly && !holdsPen(running.log.state.pen, ownId)) {
    return (
      <div className="chair-bar">
        <Late>
          <PenBar running={running} />
        </Late>
      </div>
    );
  }
  const others = wayBackAtBar(running) === null ? alternatives(offers) : [];
  return (
    <div className="chair-bar" data-press-bar="">
      {naming.spec.id === 'first-look' && (
        <Late>
          <Coach running={running} />
        </Late>
      )}
      {others.length > 0 && (
        <div className="chair-alternatives">
          {others.map((offer) => (
            <Button key={offer.id} size="chair" onPress={() => press(offer)}>
              {offerWords(offer, naming)}
            </Button>
          ))}
        </div>
      )}
      <Late>{isHandOverAsked(running) && <ChairGap running={o.around} />}</Late>
      {finished && <SignAs running={running} />}
      <Late>
        <ChairAtOnce running={o.around} onOpen={o.onOpen}>
          <AtHand running={o.around} onOpen={o.onOpen} />
        </ChairAtOnce>
      </Late>
      {implied !== null && <p className="chair-implied">{implied}</p>}
      <TopBar
        running={running}
        around={o.around}
        model={model}
        leftHanded={leftHanded}
        onPress={() => press(undefined)}
        onOpen={o.onOpen}
      />
    </div>
  );
}

/** The bar closes the case with the signature of who presses; here it is that of another, with one tap. */
function SignAs({ running }: { readonly running: RunningCase }) {
  const tablet = useTablet();
  const { people } = running.log.state.opened.spec;
  if (running.log.state.closed || running.isViewOnly) return null;
  return (
    <div className="chair-alternatives">
      {people
        .filter(({ id }) => id !== running.by)
        .map(({ id, label, role }) => (
          <Button
            key={id}
            size="chair"
            onPress={() => tablet.door.do({ do: 'close', by: id, role })}
          >
            {chairWords.closeAs(label)}
          </Button>
        ))}
    </div>
  );
}

function TopBar(o: {
  readonly running: RunningCase;
  readonly around: RunningCase;
  readonly model: BarModel | null;
  readonly leftHanded: boolean;
  readonly onPress: () => void;
  readonly onOpen: (name: SheetName) => void;
}) {
  const { running, model } = o;
  const undo = <Ends running={o.around} onOpen={o.onOpen} />;
  const signer = running.log.state.opened.spec.people.find(({ id }) => id === running.by);
  const signed = signer && running.view.finished ? chairWords.signedBy(signer.label) : undefined;
  if (running.log.state.closed) return <ClosedBar caseId={running.caseId} undo={undo} />;
  return (
    <PressBar
      words={model?.words ?? (running.view.finished ? chairWords.closeCase : chairWords.nothing)}
      subWords={model === null ? signed : model.when}
      urgency={model?.urgency ?? 'ready'}
      pending={false}
      blocked={running.isViewOnly || (model === null && !running.view.finished)}
      leftHanded={o.leftHanded}
      onPress={o.onPress}
      undo={undo}
    />
  );
}
