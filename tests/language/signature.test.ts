import { describe, expect, it } from 'vitest';
import { hoverAt } from '../../server/language/hover.ts';
import { signatureAt } from '../../server/language/signature.ts';
import type { Snapshot } from '../../server/language/snapshot.ts';
import { cursor } from './marked.ts';

/** The label with what is being written between `«` and `»`. */
function told(marked: string): string | undefined {
  const { snapshot, at } = cursor(marked);
  const found = signatureAt(snapshot, at);
  const part = found?.active === undefined ? undefined : found.parts[found.active];
  if (!found || !part) return found?.label;
  return `${found.label.slice(0, part.start)}«${found.label.slice(part.start, part.end)}»${found.label.slice(part.end)}`;
}

function placed(marked: string): [Snapshot, number] {
  const { snapshot, at } = cursor(marked);
  return [snapshot, at];
}

function doc(marked: string): string | undefined {
  const { snapshot, at } = cursor(marked);
  return signatureAt(snapshot, at)?.doc;
}

const template = `template t {
  parameter width: length from 50in to 70in
  /// Clear width of the door.
  parameter door: length = 60in
  wall back { length width }
}
`;
const zone = (inside: string): string => `template t { zone a { shelf top { at 84in }; rod r { ${inside} } } }`;

describe('signature of a phrase', () => {
  it('shows which slot comes next', () => {
    expect(told(zone('under | by 3in'))).toBe('under «<of>» by [at least] <value>');
    expect(told(zone('under top |'))).toBe('under <of> «by» [at least] <value>');
    expect(told(zone('under top by |'))).toBe('under <of> by [at least] «<value>»');
    expect(told(zone('under top by at least |'))).toBe('under <of> by [at least] «<value>»');
  });

  it('shows the slot of what is written already', () => {
    expect(told(zone('under to|p by 3in'))).toBe('under «<of>» by [at least] <value>');
    expect(told(zone('under top by 3|in'))).toBe('under <of> by [at least] «<value>»');
  });

  it('tells one of two slots of the same name by what stands before', () => {
    const found = told('template t { zone a on back before b by 2|in { } }');
    expect(found).toContain('before <before> [by «<by>»]');
  });

  it('shows the slot of a path that goes on behind its dot', () => {
    expect(told('template t { test "x" { expect a.|')).toContain('expect «<thing>»');
    expect(told('accept rod-near-wall at u.a.|')).toContain('at «<place>» because');
    expect(told('unit u trade.|')).toBe('unit <name> «<template>» [mirrored]');
    expect(told(zone('at 3in + back.|'))).toContain('| «<value>»');
  });

  it('names slots as hover and completion do', () => {
    const found = told(zone('').replace('shelf top', 'width fill at least |; shelf top'));
    expect(found).toContain('[at least «<at-least>»] [at most <at-most>]');
    const head = hoverAt(...placed('template t { zone a { wid|th fill } }'))?.text ?? '';
    expect(head).toContain(found?.replace(/[«»]/g, ''));
  });

  it('says what the word means, from where it is measured and what it falls back on', () => {
    expect(doc(zone('from wall |'))).toContain('Measured from the face of the wall.');
    expect(doc(zone('from wall |'))).toContain('Where it is not written: 12in for a rod, 0in for a board.');
  });

  it('shows nothing for a word with nothing behind it, in comments, and outside', () => {
    expect(told('template t { zone a { shelf s { fixed | } } }')).toBeUndefined();
    expect(told('// unit |')).toBeUndefined();
    expect(told('|')).toBeUndefined();
  });
});

describe('signature of a unit', () => {
  it('shows what its template asks for, and which is missing', () => {
    expect(told(`${template}unit u t { | }`)).toBe('t { «width: length from 50in to 70in»; door: length = 60in }');
    expect(doc(`${template}unit u t { | }`)).toBe('Still missing: `width`.');
    expect(told(`${template}unit u t { width 60in; | }`)).toBe(
      't { width: length from 50in to 70in; «door: length = 60in» }',
    );
    expect(doc(`${template}unit u t { width 60in; | }`)).toBe('Nothing else has to be given.');
  });

  it('shows which is being written', () => {
    expect(told(`${template}unit u t { width 6|0in }`)).toContain('«width: length');
    expect(told(`${template}unit u t { door |`)).toContain('«door: length = 60in»');
  });

  it('shows the parameters of the templates that its template extends', () => {
    expect(told(`${template}template more extends t { parameter deep: length }\nunit u more { | }`)).toBe(
      'more { «deep: length»; width: length from 50in to 70in; door: length = 60in }',
    );
  });

  it('shows the phrase of a word of the language in it', () => {
    expect(told(`${template}unit u t { floor | }`)).toBe('floor «<value>»');
  });

  it('has the documentation of each parameter', () => {
    const { snapshot, at } = cursor(`${template}unit u t { | }`);
    expect(signatureAt(snapshot, at)?.parts.map((p) => p.doc)).toEqual([
      'It has to be given.',
      'Clear width of the door.\n\nWithout it, the default is taken.',
    ]);
  });
});
