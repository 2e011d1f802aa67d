/**
 * Which entries of the words the chair can show, found in the source: from every declaration of `src/ui/chair`,
 * and from the spoken words, over whatever it names, to the topics of `src/words/en`. A new entry that
 * the chair uses is found without being listed anywhere.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, normalize } from 'node:path';

interface Source {
  /** Name here → file and name there. */
  readonly imports: ReadonlyMap<string, readonly [file: string, name: string]>;
  /** Name → text of each declaration at the top of the file. */
  readonly declared: ReadonlyMap<string, string>;
}

const sources = new Map<string, Source>();

const IMPORT = /import (?:type )?\{([^}]*)\} from '(\.[^']+)'/g;
const LAZY = /import\('(\.[^']+)'\)\)\.(\w+)/g;
const DECLARED = /^(?:export )?(?:async )?(?:const|let|function|class|type|interface) (\w+)/;

function importsIn(file: string, text: string): Source['imports'] {
  const found = new Map<string, readonly [string, string]>();
  const fileOf = (path: string) => normalize(join(dirname(file), path));
  for (const [, names = '', path = ''] of text.matchAll(IMPORT)) {
    for (const part of names.split(',')) {
      const [there = '', here = there] = part
        .trim()
        .replace(/^type /, '')
        .split(/\s+as\s+/);
      if (there !== '') found.set(here, [fileOf(path), there]);
    }
  }
  for (const [, path = '', name = ''] of text.matchAll(LAZY)) {
    found.set(name, [fileOf(path), name]);
  }
  return found;
}

function read(file: string): Source {
  const known = sources.get(file);
  if (known) return known;
  const text = readFileSync(file, 'utf8');
  const declared = new Map<string, string>();
  let name = '';
  for (const line of text.replaceAll(IMPORT, '').split('\n')) {
    name = DECLARED.exec(line)?.[1] ?? name;
    declared.set(name, `${declared.get(name) ?? ''}${line}\n`);
  }
  const source = { imports: importsIn(file, text), declared };
  sources.set(file, source);
  return source;
}

interface Place {
  readonly file: string;
  readonly name: string;
}

/** Every declaration that can be reached, once. */
function reach(roots: readonly Place[]): readonly Place[] {
  const seen = new Map<string, Place>();
  const open = [...roots];
  for (let place = open.pop(); place !== undefined; place = open.pop()) {
    const key = `${place.file} ${place.name}`;
    const { imports, declared } = read(place.file);
    const text = declared.get(place.name);
    if (seen.has(key) || text === undefined) continue;
    seen.set(key, place);
    for (const id of new Set(text.match(/\b[A-Za-z_]\w*\b/g) ?? [])) {
      if (declared.has(id)) open.push({ file: place.file, name: id });
      const [file, name] = imports.get(id) ?? ['', ''];
      if (/^src\/(ui|words|runtime)\//.test(file)) open.push({ file, name });
    }
  }
  return [...seen.values()];
}

const topicOf = ({ file, name }: Place): string | undefined =>
  /=\s*spoken\('(\w+)'/.exec(read(file).declared.get(name) ?? '')?.[1];

/** `chair.tooth`, `offer.dueIn`: how a declaration reads the words that it calls `name`. */
function pathsIn(text: string, name: string): readonly string[] {
  const code = text.replaceAll(/\/\*[\s\S]*?\*\/|\/\/.*$/gm, '').replaceAll(/typeof [\w.]+/g, '');
  const taken = [...code.matchAll(new RegExp(`\\{([^{}]*)\\} = ${name}((?:\\.\\w+)*)\\b`, 'g'))];
  const parts = taken.flatMap(([, names = '', path = '']) =>
    names.split(',').map((part) => `${path}.${part.trim().split(':')[0]}`),
  );
  const used = new RegExp(`(?<![.'\\w])${name}\\b(?!\\??:)((?:\\.\\w+)*)(?! =)`, 'g');
  const rest = code.replaceAll(/\{[^{}]*\} = [\w.]+;/g, '');
  return [...parts, ...[...rest.matchAll(used)].map(([, path = '']) => path)];
}

/** Names of the local words of a file: those that it binds, and those that it imports. */
function wordsAt(
  file: string,
  bound: ReadonlyMap<string, string>,
): [name: string, topic: string][] {
  const { imports, declared } = read(file);
  const own = [...declared.keys()].map((name) => [name, `${file} ${name}`] as const);
  const others = [...imports].map(([name, [from, there]]) => [name, `${from} ${there}`] as const);
  return [...own, ...others].flatMap(([name, key]) => {
    const topic = bound.get(key);
    return topic === undefined ? [] : [[name, topic] as [string, string]];
  });
}

/** All texts of a topic at or under a path; a path may end inside a text, as in `text.length`. */
function textsUnder(texts: unknown, path: string): readonly string[] {
  if (typeof texts !== 'object' || texts === null) return [path];
  return Object.entries(texts).flatMap(([key, value]) => textsUnder(value, `${path}.${key}`));
}

function textsAt(english: unknown, path: string): readonly string[] {
  let at = english;
  const gone: string[] = [];
  for (const key of path.split('.')) {
    if (typeof at !== 'object' || at === null || !(key in at)) break;
    at = Reflect.get(at, key);
    gone.push(key);
  }
  return textsUnder(at, gone.join('.'));
}

/** Every text that the chair can show, as `topic.name`, in alphabetical order. */
export function shownSentences(english: Readonly<Record<string, unknown>>): readonly string[] {
  const files = readdirSync('src/ui/chair', { recursive: true, encoding: 'utf8' });
  const chair = [
    ...files.filter((f) => /\.tsx?$/.test(f)).map((f) => `src/ui/chair/${f}`),
    // What stands over it in a drill, and after one.
    'src/ui/drill/DrillOver.tsx',
    'src/ui/drill/DrillEnded.tsx',
  ];
  const roots = [...chair, 'src/words/spoken-words.ts'].flatMap((file) =>
    [...read(file).declared.keys()].map((name) => ({ file, name })),
  );
  const places = reach(roots);
  const bound = new Map(
    places.flatMap((place) => {
      const topic = topicOf(place);
      return topic === undefined ? [] : [[`${place.file} ${place.name}`, topic] as const];
    }),
  );
  const found = new Set<string>();
  for (const place of places) {
    if (bound.has(`${place.file} ${place.name}`)) continue;
    const text = read(place.file).declared.get(place.name) ?? '';
    for (const [name, topic] of wordsAt(place.file, bound)) {
      for (const path of pathsIn(text, name)) {
        for (const each of textsAt(english, `${topic}${path}`)) found.add(each);
      }
    }
  }
  return [...found].toSorted();
}
