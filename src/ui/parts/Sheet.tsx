import { createContext, type ReactNode, useContext, useEffect, useId, useRef } from 'react';
import './page.css';
import { partWords } from '../../words/part-words.ts';

export interface SheetProps {
  readonly open: boolean;
  readonly title: string;
  readonly onClose: () => void;
  readonly children: ReactNode;
  readonly foot?: ReactNode;
  readonly width?: 'narrow' | 'wide' | undefined;
}

/** What every sheet has in its head beside its title, since nothing behind it can be reached. */
export const SheetHeadContext = createContext<ReactNode>(null);

/** A native dialog: focus stays in it, Escape closes it, the page behind is inert. */
export function Sheet(props: SheetProps) {
  const dialog = useRef<HTMLDialogElement>(null);
  const titleId = useId();
  const inHead = useContext(SheetHeadContext);
  useEffect(() => {
    const element = dialog.current;
    if (element === null) return;
    if (props.open && !element.open) element.showModal();
    if (!props.open && element.open) element.close();
  }, [props.open]);
  return (
    <dialog
      ref={dialog}
      className="lw-sheet"
      data-width={props.width ?? 'narrow'}
      aria-labelledby={titleId}
      onClose={() => {
        if (props.open) props.onClose();
      }}
    >
      {props.open && (
        <div className="lw-sheet-body">
          <header className="lw-sheet-head">
            <h2 id={titleId}>{props.title}</h2>
            <div className="lw-sheet-ends">
              {inHead}
              <button type="button" className="lw-sheet-close" onClick={props.onClose}>
                {partWords.close}
              </button>
            </div>
          </header>
          <div className="lw-sheet-content">{props.children}</div>
          {props.foot !== undefined && <footer className="lw-sheet-foot">{props.foot}</footer>}
        </div>
      )}
    </dialog>
  );
}
