// Every kind of step that a shipped document names can be chosen at the desk, in words.
import { readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { stepSchema } from '../../src/protocol/schema-step.ts';
import { STEP_GROUPS } from '../../src/ui/lead/editor/editor-step.ts';
import { stepKinds } from '../../src/ui/lead/editor/editor-step-names.ts';
import { sharedText } from '../protocol/documents.ts';

const named = readdirSync(new URL('../../shared/protocols/', import.meta.url))
  .filter((file) => file.endsWith('.json'))
  .flatMap((file) => [...sharedText(`protocols/${file}`).matchAll(/"rangeClass": "([^"]+)"/g)])
  .map(([, kind]) => kind ?? '');

describe('the form of a step', () => {
  it('has every field that a document may hold, but its id and its pace, which stands among the numbers', () => {
    const fields: readonly string[] = Object.values(STEP_GROUPS).flat();
    const keys = Object.keys(stepSchema.entries);
    expect(keys.filter((key) => !fields.includes(key))).toEqual(['id', 'pace']);
    expect(fields.filter((key) => !keys.includes(key))).toEqual([]);
  });
});

describe('the kinds of step', () => {
  it('offers those that the shipped documents name, each in words of its own', () => {
    expect(new Set(named).size).toBeGreaterThan(15);
    const offered = stepKinds(undefined);
    const values = offered.map(({ value }) => value);
    expect([...new Set(named)].filter((kind) => !values.includes(kind))).toEqual([]);
    expect(offered.filter(({ label }) => /-[a-z]+-|^[a-z]/.test(label))).toEqual([]);
    expect(new Set(offered.map(({ label }) => label)).size).toBe(offered.length);
  });

  it('keeps one that a file brought along and nobody knows', () => {
    expect(stepKinds('polish')).toContainEqual({ value: 'polish', label: 'polish' });
  });
});
