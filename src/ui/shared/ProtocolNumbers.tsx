import type { Protocol } from '../../protocol/types.ts';
import { protocolWords } from '../../words/protocol-words.ts';
import { Disclosure } from '../parts/Facts.tsx';
import { Section } from '../parts/Page.tsx';
import { Table } from '../parts/Table.tsx';
import {
  actionFigures,
  type FigureRow,
  paceFigures,
  sequenceOf,
  windowEnds,
  windowFigures,
} from './protocol-model.ts';

interface NumberRow extends FigureRow {
  readonly key: string;
  readonly owner: string;
  readonly ownerNote: string;
}

function NumberTable(props: { readonly caption: string; readonly rows: readonly NumberRow[] }) {
  return (
    <Table
      caption={props.caption}
      captionUnseen
      rows={props.rows}
      rowId={(row) => row.key}
      empty={protocolWords.noNumbers}
      columns={[
        {
          id: 'owner',
          label: protocolWords.figureStep,
          heads: true,
          cell: (row) => (
            <>
              {row.owner}
              {row.ownerNote !== '' && <span className="numbers-note">{row.ownerNote}</span>}
            </>
          ),
        },
        { id: 'what', label: protocolWords.figureWhat, cell: (row) => row.label },
        {
          id: 'value',
          label: protocolWords.figureValue,
          figures: true,
          cell: (row) => <strong>{row.shown}</strong>,
        },
        {
          id: 'basis',
          label: protocolWords.figureBasis,
          cell: (row) => (
            <>
              {row.basisKind}
              <span className="numbers-note">{row.basisLine}</span>
            </>
          ),
        },
      ]}
    />
  );
}

function rowsOf(
  owner: { readonly id: string; readonly title: string; readonly note: string },
  figures: readonly FigureRow[],
): NumberRow[] {
  return figures.map((figure, index) => ({
    ...figure,
    key: `${owner.id}-${figure.id}`,
    owner: index === 0 ? owner.title : '',
    ownerNote: index === 0 ? owner.note : '',
  }));
}

function Stage(props: {
  readonly protocol: Protocol;
  readonly id: string;
  readonly title: string;
}) {
  const { protocol, id, title } = props;
  const steps = protocol.steps.filter((s) => s.stage === id);
  const own = (pick: typeof actionFigures) =>
    steps.flatMap((step) =>
      rowsOf(
        { id: step.id, title: step.title, note: protocolWords.scopes[step.per] },
        pick(step, protocol.sources, protocol),
      ),
    );
  const figures = own(actionFigures);
  return (
    <section className="numbers-stage">
      <h3>{title}</h3>
      {figures.length > 0 && (
        <NumberTable caption={protocolWords.numbersCaption(title)} rows={figures} />
      )}
      <Disclosure summary={protocolWords.pace}>
        <NumberTable caption={protocolWords.paceCaption(title)} rows={own(paceFigures)} />
      </Disclosure>
    </section>
  );
}

/** Every number of the protocol with the document, publication or practice behind it. */
export function ProtocolNumbers({ protocol }: { readonly protocol: Protocol }) {
  const windows = sequenceOf(protocol).windows.flatMap(({ window, letter }) =>
    rowsOf(
      {
        id: window.id,
        title: protocolWords.lettered({ letter, title: window.title }),
        note: protocolWords.windowNote({
          protects: protocolWords.protects[window.protects],
          ...windowEnds(protocol, window),
        }),
      },
      windowFigures(window, protocol.sources),
    ),
  );
  return (
    <>
      <Section title={protocolWords.steps} lede={protocolWords.stepsLede}>
        {protocol.stages.map((stage) => (
          <Stage key={stage.id} protocol={protocol} {...stage} />
        ))}
      </Section>
      <Section title={protocolWords.windows} lede={protocolWords.windowsLede}>
        <NumberTable caption={protocolWords.windows} rows={windows} />
      </Section>
    </>
  );
}
