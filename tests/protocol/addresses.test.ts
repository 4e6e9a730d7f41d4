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
    'file:///c:/flats/a.closet',
    'file:///c%3A/flats/a.closet',
    'file:///C:/flats/a.closet',
    'file:///C%3a/flats/a.closet',
    'FILE:///c:/flats/a.closet',
    'file:/c:/flats/a.closet',
    'file://localhost/c:/flats/a.closet',
    'file:///c:/flats/%61%2eclos%65t',
    'file:///c:/flats/./a.closet',
    'file:///c:/jobs/../flats/a.closet',
    'file:///c:/flats//a.closet',
  ])('%s is one way to spell the address of a file', (uri) => {
    expect(pathOf(uri)).toBe('c:/flats/a.closet');
  });

  it.each([
    ['file://server/share/a.closet', 'file://SERVER/share/a.closet', '//server/share/a.closet'],
    ['file:///flats/a.closet', 'file://LocalHost/flats/%61.closet', '/flats/a.closet'],
    ['file:///', 'file://localhost/', '/'],
    ['memfs:/a.closet', 'MemFS:/%61.closet', '/memfs:/@/a.closet'],
    ['untitled:Untitled-1', 'Untitled:%55ntitled-1', '/untitled:/Untitled-1/untitled.closet'],
  ])('%s and %s are the same', (one, other, path) => {
    expect([pathOf(one), pathOf(other)]).toEqual([path, path]);
  });

  it.each([
    ['file:///flats/a.closet', 'file:///flats/A.closet'],
    ['file:///flats/a.closet', 'file:///flats/a%252e.closet'],
    ['file:///localhost/a.closet', 'file://localhost/a.closet'],
    ['memfs://Host/a.closet', 'memfs://Host/A.closet'],
  ])('%s and %s are not', (one, other) => {
    expect(pathOf(one)).not.toBe(pathOf(other));
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
