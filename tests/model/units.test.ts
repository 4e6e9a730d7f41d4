import { describe, expect, it } from 'vitest';
import { allFindings, check, cuts, heights, prelude, projectOf, steps, told, workspaceOf, zones } from './support.ts';

const template = `template reach-in {
  parameter width: length from 92in to 98in
  parameter shelf-board: board = white-12
  board shelf-board
  pole chrome
  wall back { length width; height 96in }
  zone shirts on back {
    width 48in
    shelf high { at 84in }
    rod upper { under high by 3in; for shirt }
  }
  zone coats on back after shirts {
    width fill
    shelf top { at 72in }
  }
}
`;

describe('a unit', () => {
  it('gives the parameters of its template', () => {
    const project = check(`${template}unit a reach-in { width 94in; floor 1; flat A-101; phase "two" }
unit b reach-in { width 96in; shelf-board white-16 }
`);
    expect(cuts(project, 'a')).toEqual(['shirts.high: 48in', 'shirts.upper: 47-1/4in', 'coats.top: 46in']);
    const [, b] = [...project.units()];
    expect(b?.resolved?.layout.parts[0]?.material).toBe('white-16');
    const [a] = [...project.units()];
    expect([a?.floor, a?.flat, a?.phase]).toEqual(['1', 'A-101', 'two']);
  });

  it('may stand below the ground: its floor may be a negative whole number', () => {
    const project = check(`${template}unit a reach-in { width 94in; floor -1; flat "-1-07" }
extra e { board white-12; length 40in; count 2; floor -12 }
unit c reach-in { width 96in; floor -1.5 }
//                                  ^^^^ error phrase-not-understood: there should be a name, a number or a text
unit d reach-in { width 96in; floor -(1) }
//                                  ^^^^ error phrase-not-understood: there should be a name, a number or a text
unit e reach-in { width 96in; floor 1 - 2 }
//                                  ^^^^^ error phrase-not-understood: there should be a name, a number or a text
`);
    const [a] = [...project.units()];
    expect([a?.floor, a?.flat]).toEqual(['-1', '-1-07']);
  });

  it('computes with a minus that stands apart', () => {
    check(`template t {
  parameter width: length
  wall back { length width-3in; height 96in }
//                   ^^^^^^^^^ error name-not-known: A minus needs a space on each side: width - 3in
}
unit a t { width 94in }
`);
  });

  it('is told of a length that is far too great for what it is given for', () => {
    check(`template t {
  parameter width: length
  wall back { length width; height 96in }
  zone a on back { width fill }
}
unit a t { width 60ft }
//         ^^^^^^^^^^ warning unlikely-size: In a: "length" comes to 720in from width, and is hardly ever more than 360in here. Did you mean 60in?
unit b t { width 30ft }
`);
  });

  it('is told what it does not give, gives twice, or gives outside the range', () => {
    check(`${template}unit a reach-in
//^^^^^^^^^^^^^ error argument-missing: Unit "a" does not give "width"
unit b reach-in { width 91in }
//                      ^^^^ error argument-out-of-range: "width" is 91in; the template allows 92in to 98in
unit c reach-in { width 94in; width 95in }
//                            ^^^^^ error word-repeated: "width" is given twice
unit d reach-in { width 94in; widht 95in }
//                            ^^^^^ error name-not-known: has no parameter "widht"
unit e reach-in { width 94 }
//                      ^^ error unit-of-measure-missing: 94 has no unit of measure
unit e2 reach-in { width 94inx }
//                         ^^^ error unit-of-measure-not-known: Did you mean "in"?
unit f reach-in { width 2 lb }
//                      ^^^^ error wrong-kind-of-quantity: Here should be a length, and this is a mass
unit g reach-im { width 94in }
//     ^^^^^^^^ error name-not-known: Did you mean "reach-in"?
unit h reach-in { width 94in; shelf-board chrom }
//                                        ^^^^^ error name-not-known: There is no board "chrom"
`);
  });

  it('mirrored has the same parts on the other side', () => {
    const project = check(`${template}unit a reach-in { width 94in }
unit b reach-in mirrored { width 94in }
`);
    expect(zones(project, 'a')).toEqual(['shirts: 0in, 48in', 'coats: 48in, 46in']);
    expect(zones(project, 'b')).toEqual(['coats: 0in, 46in', 'shirts: 46in, 48in']);
    expect(cuts(project, 'b').sort()).toEqual(cuts(project, 'a').sort());
  });

  it('overrides single statements, as on site', () => {
    const project = check(`${template}unit a reach-in {
  width 94in
  override shirts.high { at 80in }
  override coats { board white-16 }
}
`);
    expect(heights(project, 'a')).toEqual(['shirts.high: 80in', 'shirts.upper: 77in', 'coats.top: 72in']);
    expect([...project.units()][0]?.resolved?.layout.parts.map((p) => p.material)).toEqual([
      'white-12',
      'chrome',
      'white-16',
    ]);
  });

  it('is told of an override of nothing, or that adds a thing', () => {
    check(`${template}unit a reach-in {
  width 94in
  override shirts.hihg { at 80in }
//         ^^^^^^^^^^^ error name-not-known: Did you mean "shirts.high"?
  override shirts { shelf more { at 20in } }
//                  ^^^^^ error word-not-known: An override changes statements
  override shirts.high { width 3in }
//                       ^^^^^ error word-not-known: "width"
}
`);
  });

  it('that is surveyed is cut to what was measured, at the height of each part', () => {
    // Between 93in at 40in and 94in at 80in, at 72in: 93 + 32/40 = 93-4/5; less 48: 45-4/5, down to 45-3/4.
    const project = check(`${template}unit a reach-in { width 94in }
survey a {
  wall back { length 93in at 40in; length 94in at 80in }
//            ^^^^^^^^^^^^^^^^^^^ note survey-differs: 1in shorter
}
`);
    expect(cuts(project, 'a')).toEqual(['shirts.high: 48in', 'shirts.upper: 47-1/4in', 'coats.top: 45-3/4in']);
    expect(steps(project, 'a', 'coats.top')[0]).toBe('wall back, measured (at 72in), drawn 94in: ~93-51/64in');
  });

  it('that is surveyed has the walls and the openings of its template', () => {
    check(`template t {
  wall back { length 60in; height 96in }
  opening door on back { width 30in; height 80in }
}
unit a t
survey a {
    wall bakc { length 60in }
//  ^^^^^^^^^ error name-not-known: The unit has no wall "bakc". It has back.
    opening dor { width 29in }
//  ^^^^^^^^^^^ error name-not-known: The unit has no opening "dor". It has door.
    opening door.dor { width 29in }
//  ^^^^^^^^^^^^^^^^ error name-not-known: The unit has no opening "door.dor". It has door.
}
`);
  });

  it('that is surveyed mirrored is measured as on site', () => {
    const project = projectOf(`${template}unit a reach-in mirrored { width 94in }
survey a { wall back { length 93-1/2in; studs 3in, 19in } }
`);
    const layout = [...project.units()][0]?.resolved?.layout;
    expect(layout?.walls[0]?.studs.map((s) => s / 1_016_000)).toEqual([3, 19]);
    expect(cuts(project, 'a')).toContain('coats.top: 45-1/2in');
  });

  it('measured too narrow is told with the survey, not with the template', () => {
    check(`template t {
  wall back { length 94in; height 96in }
  zone a on back { width 48in }
  zone b on back after a { width fill at least 46in }
}
unit u t
unit v t
survey v { wall back { length 93-15/16in at 6in; length 94in at 80in } }
//                     ^^^^^^^^^^^^^^^^^^^^^^^^ error survey-narrower-than-layout: the back wall measures 93-15/16in; zone a is 48in wide; zone b takes what is left, at least 46in. That takes 1/16in more than there is. It fits on the 94in drawn
//                     ^^^^^^^^^^^^^^^^^^^^^^^^ note survey-differs: 1/16in shorter
`);
  });

  it('with a count cannot be the one that was measured', () => {
    check(`${template}unit a reach-in { width 94in; count 4 }
survey a { wall back { length 94in } }
//^^^^^^ error survey-of-many: Unit "a" stands for
`);
  });

  it('with a count beyond any building is told, and costs nothing', () => {
    const project = check(`${template}unit a reach-in { width 94in; count 10000000 }
//                                  ^^^^^^^^ error too-many: 10,000,000 is more than the 100,000
`);
    expect(project.stats.layoutsResolved).toBe(1);
  });

  it('equal to others is computed once', () => {
    const units = Array.from(
      { length: 1000 },
      (_, i) => `unit u-${i} reach-in { width ${i % 2 ? '94in' : '7ft 10in'} }`,
    );
    const project = projectOf(template + units.join('\n'));
    expect(project.stats.unitsEvaluated).toBe(1000);
    // 7ft 10in is 94in.
    expect(project.stats.layoutsResolved).toBe(1);
  });
});

describe('templates', () => {
  it('extend others, and override what has the same name', () => {
    const project = check(`${template}template taller extends reach-in {
  zone shirts { shelf high { at 88in } }
}
unit a taller { width 94in }
`);
    expect(heights(project, 'a')).toEqual(['shirts.high: 88in', 'shirts.upper: 85in', 'coats.top: 72in']);
    expect(cuts(project, 'a')).toContain('coats.top: 46in');
  });

  it('compute with parameters and with dimensions that are fixed', () => {
    const project = check(`template t {
  parameter trim: length = 3/4in
  board white-12
  wall back { length 60in; height 96in }
  zone a on back { width back.length - 2 * trim; shelf s { at max(40in, back.height / 2) } }
  gap rest on back after a { width fill }
}
unit u t
unit v t { trim 1in }
`);
    expect(cuts(project, 'u')).toEqual(['a.s: 58-1/2in']);
    expect(cuts(project, 'v')).toEqual(['a.s: 58in']);
    expect(heights(project, 'u')).toEqual(['a.s: 48in']);
  });

  it('name the circle of a dimension, of templates and of policies, whole', () => {
    check(`template t {
  wall back { length left.length }
//            ^^^^^^^^^^^^^^^^^^ error name-circle: back.length is computed from left.length is computed from back.length
  wall left { length back.length }
//            ^^^^^^^^^^^^^^^^^^ error name-circle: left.length is computed from back.length is computed from left.length
}
template a extends b {
//^^^^^^^^^^^^^^^^^^ error name-circle: A circle: "a" extends "b" extends "a".
}
template b extends a {
//^^^^^^^^^^^^^^^^^^ error name-circle: A circle: "b" extends "a" extends "b".
}
policy p extends p {
//^^^^^^^^^^^^^^^^ error name-circle: Policy "p" extends itself.
}
`);
  });

  it('have types for their parameters', () => {
    check(`template t {
  parameter w: lenght
//             ^^^^^^ error wrong-kind-of-quantity: Did you mean "length"?
  parameter n: count = 3in
//                     ^^^ error wrong-kind-of-quantity: Here should be a count, and this is a length
  parameter floor: length = 3in
//          ^^^^^ error name-taken: "floor" is a word of the language
}
`);
  });
});

describe('names', () => {
  it('are one set by kind for all files of a project', () => {
    const workspace = workspaceOf({
      '/p/project.closet': prelude,
      '/p/templates/a.closet': template,
      '/p/units.closet': 'unit a reach-in { width 94in }\n',
      '/p/other/project.closet': 'project "Other" { show millimetres }\n',
      '/p/other/units.closet': 'unit a reach-in { width 94in }\n',
    });
    expect(workspace.projects.map((p) => p.root).sort()).toEqual(['/p', '/p/other']);
    const [outer] = workspace.projects.filter((p) => p.root === '/p');
    expect(outer?.project.findings().filter((f) => f.severity !== 'note')).toEqual([]);
    const [inner] = workspace.projects.filter((p) => p.root === '/p/other');
    expect(inner?.project.findings().map((f) => f.rule.id)).toEqual(['name-not-known']);
  });

  it('twice of one kind are told, and the first one is used', () => {
    check(`board oak { depth 12in; thickness 1in }
board oak { depth 12in; thickness 1/2in }
//^^^^^^^ error name-taken: Board "oak" is declared twice
rod oak { diameter 1in }
`);
  });

  it('of a library stand behind its name', () => {
    const workspace = workspaceOf(
      {
        '/r/.git/x': '',
        '/r/p/project.closet':
          'project "P" { show inches }\nuse "../trade" as trade\nunit a trade.linen\nstock trade.oak { length 6ft }\n',
        '/r/trade/all.closet':
          'board oak { depth 12in; thickness 3/4in }\ntemplate linen {\n  board oak\n  wall back { length 30in; height 96in }\n  zone a on back { width fill; shelf s { at 40in } }\n}\n',
      },
      [],
    );
    const { project } = workspace.projectOf('/r/p/project.closet') as { project: Parameters<typeof allFindings>[0] };
    expect(allFindings(project).map(told)).toEqual([]);
    expect([...project.units()][0]?.resolved?.layout.parts.map((p) => p.material)).toEqual(['trade.oak']);
  });

  it('of a library that is not there, is outside, or uses the project in a circle, are told', () => {
    const found = (use: string, more: Record<string, string> = {}): string[] => {
      const workspace = workspaceOf({
        '/r/.git/x': '',
        '/r/p/project.closet': `project "P" { show inches }\nuse "${use}" as lib\n`,
        '/q/x.closet': 'board b { depth 1in }',
        ...more,
      });
      return (workspace.projectOf('/r/p/project.closet')?.project.findings() ?? []).map(
        (f) => `${f.rule.id}: ${f.message}`,
      );
    };
    expect(found('../nowhere')).toEqual([
      'use-not-found: There is no .closet file, folder or package at "../nowhere".',
    ]);
    expect(found('../../q')).toEqual([
      'use-outside-workspace: "../../q" is outside the workspace, and a project has to be whole wherever it is checked out.',
    ]);
    expect(found('../a', { '/r/a/a.closet': 'use "../b" as b', '/r/b/b.closet': 'use "../p" as p' })).toEqual([
      'name-circle: A circle: "p" uses "a" uses "b" uses "p".',
    ]);
  });
});

describe('agreements', () => {
  const shallow = `template t {
  board white-12
  pole chrome
  wall back { length 48in; height 96in }
  zone a on back { width fill; rod r { at 60in; for shirt; from wall 6in } }
`;
  it('take away the finding they name, with a reason', () => {
    check(`${shallow}}
unit u t
accept rod-near-wall at u.a.r because "agreed with the owner"
`);
  });

  it('that match nothing are told', () => {
    check(`${shallow}}
unit u t
accept rod-near-wall at t.a because "agreed with the owner"
accept rod-near-wall at u.b because "not there"
//^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ warning accept-matches-nothing: Nothing of rule "rod-near-wall" is found there
accept rod-neer-wall at u.a because "misspelt"
//     ^^^^^^^^^^^^^ error name-not-known: Did you mean "rod-near-wall"?
`);
  });

  it('at a unit or template that is not there say so', () => {
    const project = check(`${shallow}}
unit A-101-bedroom t
accept rod-near-wall at t.a because "agreed with the owner"
accept rod-near-wall at A-101-bedrom.a because "misspelt"
//^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ warning accept-matches-nothing: There is no unit or template "A-101-bedrom" whose findings could be agreed to. Did you mean "A-101-bedroom"?
`);
    const [told] = project.findings();
    expect(told?.fixes.map(({ title, edits }) => [title, edits[0]?.text])).toEqual([
      ['Write "A-101-bedroom"', 'A-101-bedroom'],
      ['Remove this "accept"', ''],
    ]);
  });

  it('at a template of a library name it as the project does', () => {
    const found = (accepted: string): string[] => {
      const workspace = workspaceOf(
        {
          '/r/p/project.closet': `project "p" {}
use "../trade" as trade
unit u trade.t
${accepted}`,
          '/r/trade/trade.closet': `project "trade" {}
board white-12 { depth 12in; thickness 3/4in }
rod chrome { diameter 1-1/4in }
garment shirt { hang 40in; hanger 17in }
stock white-12 { length 8ft }
stock chrome { length 8ft }
${shallow}}
`,
        },
        ['/r'],
      );
      const { project } = workspace.projectOf('/r/p/project.closet') ?? {};
      return (project?.findings() ?? []).map(({ rule }) => rule.id);
    };
    expect(found('')).toEqual(['rod-near-wall']);
    expect(found('accept rod-near-wall at trade.t because "agreed"')).toEqual([]);
    expect(found('accept rod-near-wall at trade.t.a.r because "agreed"')).toEqual([]);
    expect(found('accept rod-near-wall at t because "agreed"')).toEqual(['rod-near-wall', 'accept-matches-nothing']);
    expect(found('accept rod-near-wall at trade.tt.a because "agreed"')).toEqual([
      'rod-near-wall',
      'accept-matches-nothing',
    ]);
    expect(found('accept rod-near-wall at trade because "agreed"')).toEqual([
      'rod-near-wall',
      'accept-matches-nothing',
    ]);
  });
});

describe('expressions', () => {
  it('with decimal factors lose no tick', () => {
    // 94in x 0.7 = 65.8in; 33in / 1.1 = 30in
    const project = projectOf(`template t {
  board white-12
  wall back { length 94in * 0.7 + 33in / 1.1; height 96in }
  zone a on back { width fill; shelf s { at 40in } }
}
unit u t
`);
    expect([...project.units()][0]?.resolved?.layout.walls[0]?.length).toBe(95.8 * 1_016_000);
  });
});

it('what is found on a policy is told once, with the units it reaches', () => {
  check(`template t {
  wall left { length 26in; height 96in }
  wall back { length 72in; height 96in }
  wall right { length 26in; height 96in }
  opening front { width 60in; height 80in }
}
policy old { reach side 54in }
//           ^^^^^^^^^^^^^^^ note reach-of-old-edition: reaches u, v
unit u t { policy old }
unit v t { policy old }
`);
});

describe('the range of a parameter', () => {
  it('that ends before it begins is told once, and meant the other way round', () => {
    check(`template t {
  parameter wide: length from 80in to 70in
//                            ^^^^^^^^^^^^ error number-out-of-bounds: Write the lesser end first: from 70in to 80in.
  wall back { length wide; height 96in }
  zone a on back { width fill }
}
unit u t { wide 75in }
unit v t { wide 90in }
//              ^^^^ error argument-out-of-range: "wide" is 90in; the template allows 70in to 80in.
`);
  });

  it('holds for what a unit has that gives nothing', () => {
    check(`template t {
  parameter wide: length = 60in from 70in to 80in
//                         ^^^^ error argument-out-of-range: "wide" is 60in where a unit gives none; its own range is 70in to 80in.
  parameter many: count = 4 from 1 to 3
//                        ^ error argument-out-of-range: The nearest that fits is 3.
  parameter high: length = 96in from 90in to 96in
  board white-12
  wall back { length wide; height high }
  zone a on back { width fill; shelf top { at 80in }; shelves row between floor and top { count many } }
}
unit u t
`);
  });

  it('has a type that was misspelt, which is told once, and not wherever the parameter is named', () => {
    check(`template t {
  parameter wide: lenght = 60in
//                ^^^^^^ error wrong-kind-of-quantity: Did you mean "length"?
  wall back { length wide; height 96in }
  zone a on back { width fill }
}
unit u t { wide 62in }
`);
  });
});

describe('a range that is written with its greater end first', () => {
  it('is told of as such, wherever one may stand, and meant the other way round', () => {
    check(`template t {
  board white-12
  wall back { length 60in; height 96in }
  zone a on back {
    width from 40in to 20in
//             ^^^^^^^^^^^^ error number-out-of-bounds: The range of the width ends before it begins
//  ^^^^^^^^^^^^^^^^^^^^^^^ note width-loose: can be 20in to 40in wide
    shelf top { at from 84in to 80in }
//                      ^^^^^^^^^^^^ error number-out-of-bounds: Write the lesser end first: from 80in to 84in.
//              ^^^^^^^^^^^^^^^^^^^^ note height-loose: can be at 80in to 84in
    shelf low { at 20in }
    shelves row between low and top { count 3; pitch from 18in to 14in }
//                                                        ^^^^^^^^^^^^ error number-out-of-bounds: The range of the pitch ends before it begins
  }
  zone b on back after a { width fill }
}
unit u t
`);
  });
});

describe('a word that is misspelt where a value may stand', () => {
  it('is taken for the word, where that is nearer than any parameter', () => {
    check(`template t {
  parameter wide: length = 60in
  wall back { length wid; height 96in; studs evry 16in }
//                   ^^^ error name-not-known: There is no parameter "wid". Did you mean "wide"?
//                                           ^^^^ error name-not-known: Did you mean "every"?
  zone a on back { width fil; shelf top { at 80in } }
//                       ^^^ error name-not-known: There is no parameter or word "fil". Did you mean "fill"?
}
unit u t
`);
  });
});

describe('a name that begins with a digit', () => {
  it('is told of as no name, and not as a length of a strange unit of measure', () => {
    check(`template 1x { wall back { length 60in; height 96in } }
//       ^^ error phrase-not-understood: "1x" is no name: a name begins with a letter
`);
  });
});
