/** The chair as it is drawn, read back as a tree: what people see is judged, not the model behind it. */
import { readFileSync } from 'node:fs';
import { renderToStaticMarkup } from 'react-dom/server';
import { Router } from 'wouter';
import type { RunningCase } from '../../src/runtime/app-state.ts';
import type { Session } from '../../src/runtime/session.ts';
import { Chair } from '../../src/ui/chair/Chair.tsx';
import { FarView } from '../../src/ui/chair/FarView.tsx';
import { RunningLine } from '../../src/ui/chair/RunningLine.tsx';
import { SessionContext } from '../../src/ui/shared/session-context.ts';
import type { Tablet } from '../../src/ui/shared/tablet.ts';
import { fakeSession } from '../ui-screens/fake-session.tsx';

export interface Drawn {
  readonly tag: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly inside: readonly (Drawn | string)[];
}

const ENTITIES: Readonly<Record<string, string>> = {
  '&amp;': '&',
  '&lt;': '<',
  '&gt;': '>',
  '&quot;': '"',
  '&#x27;': "'",
};
const plain = (text: string): string =>
  text.replaceAll(/&[a-z]+;|&#x27;/g, (each) => ENTITIES[each] ?? each).replaceAll('\u00a0', ' ');

/** The markup of React: every element is closed, and no attribute holds a bracket. */
function treeOf(markup: string): Drawn {
  const root = { tag: '', attributes: {}, inside: [] as (Drawn | string)[] };
  const open = [root];
  for (const [, end, tag, given = '', alone, text] of markup.matchAll(
    /<(\/?)([\w:-]+)([^>]*?)(\/?)>|([^<]+)/g,
  )) {
    const at = open.at(-1) ?? root;
    if (text !== undefined) at.inside.push(plain(text));
    else if (end === '/') open.pop();
    else if (tag !== undefined) {
      const pairs = [...given.matchAll(/([\w:-]+)="([^"]*)"/g)];
      const attributes = Object.fromEntries(pairs.map(([, k = '', v = '']) => [k, plain(v)]));
      const made = { tag, attributes, inside: [] };
      at.inside.push(made);
      if (alone !== '/' && !/^(input|br|link|meta)$/.test(tag)) open.push(made);
    }
  }
  return root;
}

/** All that is drawn in an element, as people read it. */
export const textOf = (at: Drawn): string =>
  at.inside.map((each) => (typeof each === 'string' ? each : textOf(each))).join('');

/** All that is drawn or named anywhere on a page, in one text. */
export const everyTextOf = (at: Drawn): string =>
  [
    at.attributes['aria-label'] ?? '',
    ...at.inside.map((each) => (typeof each === 'string' ? each : everyTextOf(each))),
  ].join('\n');

/** The elements of a class, in the order of the page. */
export function allOf(at: Drawn, name: string): readonly Drawn[] {
  return at.inside.flatMap((each) => {
    if (typeof each === 'string') return [];
    const own = (each.attributes['class'] ?? '').split(' ').includes(name) ? [each] : [];
    return [...own, ...allOf(each, name)];
  });
}

export const textsOf = (at: Drawn, name: string): readonly string[] => allOf(at, name).map(textOf);
export const textAt = (at: Drawn, name: string): string | null => textsOf(at, name)[0] ?? null;

const TABLET = { door: {}, realNowMs: () => 0, wallNowMs: () => 0 } as unknown as Tablet;

const SCREENS = { chair: Chair, far: FarView, line: RunningLine };

/** Markup is drawn without a history. */
const atChair = (): [string, () => void] => ['/chair', () => undefined];

export function draw(running: RunningCase, screen: keyof typeof SCREENS = 'chair'): Drawn {
  const session = fakeSession({ running }) as unknown as Session;
  const Screen = SCREENS[screen];
  return treeOf(
    renderToStaticMarkup(
      <SessionContext value={{ session, tablet: TABLET }}>
        <Router hook={atChair}>
          <Screen />
        </Router>
      </SessionContext>,
    ),
  );
}

/** The parts of the chair that come late are there from the second picture on. */
export async function drawOnce(running: RunningCase): Promise<void> {
  draw(running);
  const late = readFileSync('src/ui/chair/late-parts.ts', 'utf8').matchAll(/\/(\w+)\.tsx'/g);
  const read = [...late].map(([, name = '']) =>
    name === 'SizeNotice' || name === 'ChairSheets'
      ? Promise.resolve()
      : import(`../../src/ui/chair/${name}.tsx`),
  );
  await Promise.all(read);
  await new Promise((resolve) => setTimeout(resolve, 0));
  draw(running);
}
