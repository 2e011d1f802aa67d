import { Component, type ReactNode, Suspense } from 'react';
import { partWords } from '../../words/part-words.ts';
import { Banner } from './Banner.tsx';
import { Button } from './Button.tsx';

interface HeldProps {
  readonly children: ReactNode;
  /** Somewhere else, another attempt: what failed at one place says nothing of the next. */
  readonly at?: string | undefined;
}

/**
 * Where something in it breaks, or its file does not come, the rest of the screen stays as it is, and a line
 * says so in its place: without it React would empty the whole page.
 */
export class Held extends Component<HeldProps, { readonly isBroken: boolean }> {
  override state = { isBroken: false };

  static getDerivedStateFromError(): { readonly isBroken: boolean } {
    return { isBroken: true };
  }

  override componentDidUpdate(before: HeldProps): void {
    if (this.state.isBroken && before.at !== this.props.at) this.setState({ isBroken: false });
  }

  override render(): ReactNode {
    if (!this.state.isBroken) return this.props.children;
    return (
      <Banner
        tone="broken"
        words={partWords.notLoaded}
        advice={partWords.notLoadedAdvice}
        action={<Button onPress={() => window.location.reload()}>{partWords.loadAgain}</Button>}
      />
    );
  }
}

interface LateProps extends HeldProps {
  /** What stands there until it has come. */
  readonly fallback?: ReactNode;
}

/** What has a file of its own and comes a moment later. */
export function Late({ at, fallback, children }: LateProps) {
  return (
    <Held at={at}>
      <Suspense fallback={fallback}>{children}</Suspense>
    </Held>
  );
}
