/** A depth that several parts have from one place is told once, there. */
import { describe, expect, it } from 'vitest';
import { allFindings, check, projectOf } from '../model/support.ts';

describe('a depth that a template gives to all', () => {
  it('and no board has is told there, with how many parts it is of', () => {
    check(`template t {
    depth 16in
//  ^^^^^^^^^^ error depth-not-in-board: 4 shelves and 2 panels are 16in deep, and board "white-12" is 12in: they are 4in too deep to be cut from it. Choose a deeper board, or make them at most 12in deep. reaches u, v
  board white-12
  wall back { length 96in; height 96in }
  zone a on back {
    width 24in
    panels sides
    shelf top { at 72in }
    shelf own { at 62in; depth 14in }
//  ^^^^^^^^^ error depth-not-in-board: Shelf "a.own" is 14in deep
    shelf other { at 52in; board white-16 }
    shelves row between low and own { count 2 }
    shelf low { at 4in }
  }
  zone b on back after a { width fill }
}
unit u t
unit v t mirrored
`);
  });

  it('is mended in one place', () => {
    const project = projectOf(`template t {
  depth 16in
  board white-12
  wall back { length 96in; height 96in }
  zone a on back { width fill; shelf top { at 72in }; shelf low { at 40in } }
}
unit u t
`);
    const [found, ...more] = allFindings(project).filter(({ rule }) => rule.id === 'depth-not-in-board');
    expect(more).toEqual([]);
    expect(found?.fixes.map(({ title }) => title)).toEqual(['Write depth 12in instead of 16in for t']);
    expect(found?.related.map(({ message }) => message)).toEqual([
      'Board "white-12" is 12in deep.',
      'Shelf "a.top" is one of them.',
      'Shelf "a.low" is one of them.',
    ]);
  });

  it('is told of one part as that part, and of a zone within the zone', () => {
    check(`template t {
  board white-12
  wall back { length 96in; height 96in }
  zone a on back { width 40in; depth 14in; shelf top { at 72in } }
//                             ^^^^^^^^^^ error depth-not-in-board: Shelf "a.top" is 14in deep, and board "white-12" is 12in
  zone b on back after a { width fill; depth 11in; shelf top { at 72in }; shelf low { at 40in } }
//                                     ^^^^^^^^^^ note depth-unusual: 2 shelves are 11in deep; shelves are mostly 12in or 16in deep.
}
unit u t
`);
  });
});
