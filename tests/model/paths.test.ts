import { describe, expect, it } from 'vitest';
import { isWithin, join, parentOf, relativeTo } from '../../server/model/files.ts';

describe('a path', () => {
  it.each([
    ['/home/flats', 'floors/a.closet', '/home/flats/floors/a.closet'],
    ['/home/flats', './a.closet', '/home/flats/a.closet'],
    ['/home/flats', '../lib/a.closet', '/home/lib/a.closet'],
    ['/', 'a.closet', '/a.closet'],
    ['/home', '../../../a.closet', '/a.closet'],
    ['/home', '/lib/a.closet', '/lib/a.closet'],
    ['C:/jobs', '../lib/a.closet', 'C:/lib/a.closet'],
    ['C:/jobs', '../../../a.closet', 'C:/a.closet'],
    ['//server/share/jobs', '../lib/a.closet', '//server/share/lib/a.closet'],
    ['//server/share', '../../a.closet', '//server/share/a.closet'],
  ])('from %s to %s is %s', (folder, relative, path) => {
    expect(join(folder, relative)).toBe(path);
  });

  it('of a shared folder is within it, and has its folder', () => {
    expect(isWithin('//server/share', '//server/share/a/b.closet')).toBe(true);
    expect(relativeTo('//server/share', '//server/share/a/b.closet')).toBe('a/b.closet');
    expect(parentOf('//server/share/a')).toBe('//server/share');
  });
});
