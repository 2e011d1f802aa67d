import type { MouseEvent, ReactNode } from 'react';
import './page.css';
import { partWords } from '../../words/part-words.ts';

interface PageProps {
  /** The name of the place, its only first heading. */
  readonly title: string;
  readonly lede?: string | undefined;
  /** A `PlaceNav`. */
  readonly nav?: ReactNode;
  /** A thin row above the places. */
  readonly line?: ReactNode;
  /** A `StatusRail`. */
  readonly status?: ReactNode;
  /** Banners about the whole page. */
  readonly banners?: ReactNode;
  /** Buttons that act on the whole page. */
  readonly actions?: ReactNode;
  readonly children: ReactNode;
  /** `reading` for forms and text, `full` for pictures and tables. */
  readonly width?: 'reading' | 'full' | undefined;
}

/** The frame of every page away from the chair: places above, title, content. */
export function Page(props: PageProps) {
  return (
    <div className="lw-page" data-width={props.width ?? 'full'}>
      {(props.nav !== undefined || props.status !== undefined) && (
        <header className="lw-page-rail lw-screen-only">
          {props.line}
          {props.nav}
          {props.status !== undefined && <div className="lw-page-status">{props.status}</div>}
        </header>
      )}
      <main className="lw-page-main">
        <header className="lw-page-head">
          <div>
            <h1>{props.title}</h1>
            {props.lede !== undefined && <p className="lw-page-lede">{props.lede}</p>}
          </div>
          {props.actions !== undefined && <div className="lw-page-actions">{props.actions}</div>}
        </header>
        {props.banners}
        {props.children}
      </main>
    </div>
  );
}

interface SectionProps {
  readonly title: string;
  readonly lede?: string | undefined;
  readonly children: ReactNode;
}

/** A titled part of a page. */
export function Section(props: SectionProps) {
  return (
    <section className="lw-section">
      <header className="lw-section-head">
        <h2>{props.title}</h2>
        {props.lede !== undefined && <p>{props.lede}</p>}
      </header>
      {props.children}
    </section>
  );
}

export interface Place {
  readonly id: string;
  readonly label: string;
  readonly href: string;
  /** How many things wait there; told in words to screen readers by `countWords`. */
  readonly count?: number | undefined;
  readonly countWords?: string | undefined;
}

interface PlaceNavProps {
  readonly places: readonly Place[];
  readonly currentId: string;
  /** Called instead of following the link; without it the link is followed. */
  readonly onNavigate?: ((href: string) => void) | undefined;
}

function isPlainClick(event: MouseEvent): boolean {
  return event.button === 0 && !event.metaKey && !event.ctrlKey && !event.shiftKey && !event.altKey;
}

/** The places of the app by their names. The present one stands on its own ground. */
export function PlaceNav(props: PlaceNavProps) {
  const { places, currentId, onNavigate } = props;
  return (
    <nav className="lw-places" aria-label={partWords.places}>
      <ul>
        {places.map((place) => (
          <li key={place.id}>
            <a
              href={place.href}
              aria-current={place.id === currentId ? 'page' : undefined}
              onClick={(event) => {
                if (onNavigate === undefined || !isPlainClick(event)) return;
                event.preventDefault();
                onNavigate(place.href);
              }}
            >
              {place.label}
              {place.count !== undefined && place.count > 0 && (
                <>
                  <span className="lw-places-count" aria-hidden="true">
                    {place.count}
                  </span>
                  <span className="lw-unseen">{place.countWords ?? String(place.count)}</span>
                </>
              )}
            </a>
          </li>
        ))}
      </ul>
    </nav>
  );
}
