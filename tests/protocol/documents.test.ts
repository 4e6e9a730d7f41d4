/** Documents of one file, each with a text of its own: whatever is opened, typed in and closed, no text is taken for another. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { edited, editTo } from '../../server/model/open-files.ts';
import { createDocuments } from '../../server/protocol/documents.ts';

const path = '/flats/a.closet';
const spellings = ['file:///flats/a.closet', 'file:///flats/%61.closet', 'file://localhost/flats/a.closet'];

const step = fc.record({
  kind: fc.constantFrom('open', 'type', 'close'),
  uri: fc.constantFrom(...spellings),
  text: fc.string({ maxLength: 4 }),
});

it('the file has the text of the document that was opened or typed in last, and is told of under its spelling', () => {
  fc.assert(
    fc.property(fc.array(step, { maxLength: 20 }), (steps) => {
      let file: string | undefined;
      const documents = createDocuments({
        textOf: () => file,
        replace: (_, text) => {
          file = edited(file ?? '', [editTo(file ?? '', text)]);
        },
      });
      /** What each document holds, the one that leads last. */
      const held = new Map<string, string>();
      const leads = (uri: string, text: string): void => {
        held.delete(uri);
        held.set(uri, text);
      };
      for (const { kind, uri, text } of steps) {
        if (kind === 'open') {
          documents.opened(path, { uri, version: 1 });
          file = text;
          leads(uri, text);
        } else if (kind === 'type') {
          const document = documents.edited(path, uri);
          const of = held.has(uri) ? uri : [...held.keys()].at(-1);
          expect(document?.uri).toBe(of);
          if (of === undefined) continue;
          expect(file).toBe(held.get(of));
          file = `${text}${file}`;
          leads(of, file);
        } else {
          const of = held.has(uri) ? uri : [...held.keys()].at(-1);
          const wasOpen = of !== undefined && held.delete(of);
          expect(documents.closed(path, uri)).toBe(!wasOpen ? 'was-not-open' : held.size > 0 ? 'open' : 'closed');
          if (held.size === 0) file = undefined;
        }
        expect(documents.open.get(path)?.uri).toBe([...held.keys()].at(-1));
        expect(file).toBe([...held.values()].at(-1));
      }
    }),
    { numRuns: 500 },
  );
});

it('the one edit that makes a text another leaves what is the same at both ends', () => {
  expect(editTo('width 40in', 'width 42in')).toEqual({ start: 7, end: 8, text: '2' });
  expect(editTo('aa', 'aaa')).toEqual({ start: 2, end: 2, text: 'a' });
  expect(editTo('aaa', 'a')).toEqual({ start: 1, end: 3, text: '' });
  const text = fc.string({ unit: fc.constantFrom('a', 'b', '\n') });
  fc.assert(fc.property(text, text, (before, after) => edited(before, [editTo(before, after)]) === after));
});
