import { describe, expect, it } from 'vitest';
import { check, projectOf, workspaceOf } from './support.ts';

const room = `  wall left { length 25in; height 96in }
  wall back { length 60in; height 96in }
  wall right { length 25in; height 96in }
`;

describe('a corner', () => {
  it('belongs to one of the two walls that meet in it', () => {
    const project = check(`template t {
${room}  corner back left { owner right }
//                         ^^^^^ error name-not-known: The right wall is none of the two that meet in this corner. Write "back" or "left".
}
unit u t
`);
    expect(project.findings()[0]?.fixes.map(({ title, byHand }) => [title, byHand])).toEqual([
      ['Write "back"', true],
      ['Write "left"', true],
    ]);
  });
});

describe('a zone inside a zone', () => {
  it('stands on the wall of that', () => {
    const project = check(`template t {
${room}  zone a on back {
    width fill
    zone b on left { width 20in }
//            ^^^^ error phrase-not-understood: Zone "b" is inside zone "a", and so on the back wall. Leave out where it stands, or write it outside of zone "a".
    zone c on back after b { width fill }
    zone d on nowhere after c { width 3in }
//            ^^^^^^^ error name-not-known: There is no wall "nowhere"
  }
}
unit u t
`);
    expect(project.findings()[0]?.fixes.map(({ title }) => title)).toEqual(['Remove "on left"']);
  });
});

describe('a survey', () => {
  const template = `template t {
${room}  opening door on right { width 12in; height 80in }
}
`;

  it('measures each wall, opening and corner once', () => {
    check(`${template}unit u t
survey u {
    wall back { length 60in }
    wall back { length 59in at 84in }
//  ^^^^^^^^^ error name-taken: Wall "back" is measured twice in this survey; the first one is used. Put both into one.
    opening door { width 12in }
    opening door { width 11in }
//  ^^^^^^^^^^^^ error name-taken: Opening "door" is measured twice
    corner back left { angle 90deg }
    corner left back { angle 91deg }
//  ^^^^^^^^^^^^^^^^ error name-taken: The corner of left and back is measured twice
}
`);
  });

  it('names walls of the unit in its corners too', () => {
    const project = check(`${template}unit u t
survey u {
  corner back lefft { angle 91deg }
//            ^^^^^ error name-not-known: The unit has no wall "lefft". It has left, back, right.
}
`);
    expect(project.findings()[0]?.fixes.map(({ title }) => title)).toEqual(['Write "left"']);
  });

  it('is of a unit of the project, not of a library', () => {
    const workspace = workspaceOf(
      {
        '/r/p/project.closet':
          'project "p" {}\nuse "../trade" as trade\nsurvey trade.u { wall back { length 59in } }\n',
        '/r/trade/trade.closet': `project "trade" {}\n${template}unit u t\n`,
      },
      ['/r'],
    );
    const found = workspace.projectOf('/r/p/project.closet')?.project.findings() ?? [];
    expect(found.map(({ message }) => message)).toEqual([
      'Unit "trade.u" is built in another project, so that nothing here is made for what was measured.',
    ]);
  });

  it('without a mistake says nothing', () => {
    expect(
      projectOf(`${template}unit u t
survey u { wall back { length 60in; length 60in at 84in }; wall left { length 25in }; corner back left { angle 90deg }; corner back right { angle 90deg } }
`).findings(),
    ).toEqual([]);
  });
});
