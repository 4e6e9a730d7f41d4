/** Addresses and paths: of disks, of file systems that only an editor knows, of documents that were never saved. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isElsewhere, pathOf, uriOf } from '../../server/protocol/addresses.ts';

describe('addresses', () => {
  it.each([
    ['file:///flats/a.closet', '/flats/a.closet'],
    ['file:///flats%20of%20ours/', '/flats of ours'],
    ['vscode-vfs://github/quarry-lane/closets/a.closet', '/vscode-vfs:/@github/quarry-lane/closets/a.closet'],
    ['vscode-remote://127.0.0.1:4000/a.closet', '/vscode-remote:/@127.0.0.1%3A4000/a.closet'],
    ['vscode-test-web://mount/', '/vscode-test-web:/@mount'],
    ['memfs:/a.closet', '/memfs:/@/a.closet'],
    ['inmemory://model/1.closet', '/inmemory:/@model/1.closet'],
    ['untitled:Untitled-1', '/untitled:/Untitled-1/untitled.closet'],
  ])('%s is at %s', (uri, path) => {
    expect(pathOf(uri)).toBe(path);
  });

  it.each([
    ['git:/flats/a.closet?%7B%22ref%22%3A%22HEAD%22%7D', 'a file as a commit has it'],
    ['vscode-notebook-cell:/a.ipynb#W0', 'a part of a document'],
    ['mailto:nobody', 'no path'],
    ['a.closet', 'no address'],
    ['', 'nothing'],
  ])('%s is passed over: %s', (uri) => {
    expect(pathOf(uri)).toBeUndefined();
  });

  it('lead back from a path to where it came from, one address for each path', () => {
    // What looks like a drive is written in small letters wherever it stands: the address library's way on Windows.
    const name = fc.string({ minLength: 1 }).filter((text) => !/[/\\]|^[.]{1,2}$|^[A-Z]:/.test(text));
    const parts = fc.record({
      scheme: fc.constantFrom('vscode-vfs', 'memfs', 'file', 'vscode-remote'),
      authority: fc.constantFrom('', 'github', 'host:80', 'a+b', '..'),
      path: fc.array(name, { minLength: 1, maxLength: 3 }),
    });
    fc.assert(
      fc.property(parts, ({ scheme, authority, path }) => {
        const host = scheme === 'file' ? '' : encodeURIComponent(authority);
        const at = pathOf(`${scheme}://${host}/${path.map(encodeURIComponent).join('/')}`);
        expect(at).toBeDefined();
        expect(pathOf(uriOf(at ?? ''))).toBe(at);
        expect(isElsewhere(at ?? '')).toBe(scheme !== 'file');
      }),
    );
  });
});
