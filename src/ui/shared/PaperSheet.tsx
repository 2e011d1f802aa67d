import type { ReactNode } from 'react';
import { Link } from 'wouter';
import { Button } from '../parts/Button.tsx';
import { EmergencyButton } from './EmergencyButton.tsx';
import { SharingSpot } from './SharingSpot.tsx';
import './paper.css';

/** A sheet that is read on paper: a way back, a button that prints it, and the sheet itself. */
export function PaperSheet(props: {
  readonly title: string;
  readonly look: 'quick' | 'card' | 'box';
  readonly back: { readonly href: string; readonly words: string };
  readonly print: string;
  readonly children: ReactNode;
}) {
  return (
    <main className="paper-page">
      <nav className="paper-bar lw-screen-only" aria-label={props.title}>
        <Link className="lw-way" href={props.back.href}>
          {props.back.words}
        </Link>
        <Button rank="main" onPress={() => window.print()}>
          {props.print}
        </Button>
        <SharingSpot />
        <EmergencyButton />
      </nav>
      <article className={`paper ${props.look}`} aria-label={props.title}>
        {props.children}
      </article>
    </main>
  );
}
