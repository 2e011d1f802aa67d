// A new family must be a document that the parser takes, and never the id of one that is there: the
// revisions of a protocol are told apart by id and number (docs of the format).
import { describe, expect, it } from 'vitest';
import { checkProtocol } from '../../src/protocol/check-protocol.ts';
import { blankProtocol, copyOf } from '../../src/protocol/new-protocol.ts';
import { parseProtocol } from '../../src/protocol/parse-protocol.ts';
import { smallProtocol } from './edit-support.ts';

describe('a new family', () => {
  it('begins blank as a document that parses; what it lacks is told by the checks', () => {
    const blank = blankProtocol({ title: 'Post & core, fibre', summary: 'One root.', known: [] });
    const parsed = parseProtocol(blank);
    expect(parsed.ok && parsed.value).toEqual(blank);
    expect(blank.id).toBe('post-core-fibre');
    expect(checkProtocol(blank).map(({ code }) => code)).toContain('no-steps');
  });

  it('is a copy in everything but id, title and number', () => {
    const source = { ...smallProtocol(), revision: 7 };
    const copy = copyOf(source, { title: 'Small', known: [source, { id: 'small-2' }] });
    expect(copy).toEqual({ ...source, id: 'small-3', revision: 1 });
    expect(parseProtocol(copy).ok).toBe(true);
  });

  it('has an id also where no letter of its title can stand in one', () => {
    expect(blankProtocol({ title: 'Цемент', summary: 'x', known: [] }).id).toBe('entry');
  });
});
