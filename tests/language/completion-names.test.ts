/** Names that are offered are those that the checker takes at the place: in overrides, behind `accept`, in mirrored units. */
import { describe, expect, it } from 'vitest';
import { completionsAt } from '../../server/language/completion.ts';
import { hoverAt } from '../../server/language/hover.ts';
import type { Completion } from '../../server/language/offer.ts';
import { cursor, cursorIn, type Marked } from './marked.ts';

const valueKinds: ReadonlySet<Completion['kind']> = new Set(['name', 'parameter', 'dimension']);

/** The names and values that are offered, in alphabetical order. */
function names(marked: string | Marked): string[] {
  const { snapshot, at } = typeof marked === 'string' ? cursor(marked) : marked;
  return completionsAt(snapshot, at)
    .filter(({ kind }) => valueKinds.has(kind))
    .map(({ label }) => label)
    .sort();
}

function headAt(marked: string): string | undefined {
  const { snapshot, at } = cursor(marked);
  return hoverAt(snapshot, at)?.text;
}

const closet = `template t {
  parameter width: length = 60in
  parameter wood: board = white-12
  wall back { length width; height 96in }
  wall left { length 24in; height 96in }
  opening door on left { width 20in; height 80in }
  fixture outlet on back { from left 50in; height 16in }
  pole chrome
  zone a on back {
    width fill
    board white-12
    panels { height 90in }
    shelf top { at 84in }
    rod r { at 60in }
    drawers chest { count 2; at 8in; height 8in; depth 10in }
    shelves row between chest and top { count 2 }
    zone inner { width 20in; shelf low { at 40in } }
  }
}
`;

describe('in an override', () => {
  const over = (override: string): string => `${closet}unit u t { override ${override} }\n`;

  it.each(['above', 'under'])('of a shelf, what it can be %s: the others in its zone that have a height', (word) => {
    expect(names(over(`a.top { ${word} | }`))).toEqual(['chest', 'r']);
    expect(names(over(`a.top { ${word} ch|est by 3in }`))).toEqual(['chest', 'r']);
  });

  it('of a rod or of drawers, the same', () => {
    expect(names(over('a.r { above | }'))).toEqual(['chest', 'top']);
    expect(names(over('a.chest { under | by at least 3in }'))).toEqual(['r', 'top']);
  });

  it('of what stands in a zone within a zone, its own neighbours', () => {
    expect(names(over('a.inner.low { under | }'))).toEqual([]);
    const two = closet.replace('shelf low', 'shelf high { at 60in }; shelf low');
    expect(names(`${two}unit u t { override a.inner.low { under | } }`)).toEqual(['high']);
  });

  it('of a template that extends another, those of both', () => {
    const heir = `${closet}template s extends t { zone a { shelf mid { at 50in } } }\n`;
    expect(names(`${heir}unit u s { override a.top { above | } }`)).toEqual(['chest', 'mid', 'r']);
  });

  it('of a zone, what changes it and nothing that would stand in it', () => {
    const { snapshot, at } = cursor(over('a { | }'));
    const words = completionsAt(snapshot, at).map(({ label }) => label);
    expect(words).toEqual(['width', 'depth', 'board', 'pole', 'carried', 'matched']);
  });

  it('of what its path has begun, all that goes on so', () => {
    expect(names(over('a.|top { at 80in }'))).toContain('a.top');
    expect(names(`${closet}unit u2 t\naccept rod-near-wall at u2.|a because "so"`)).toContain('u2.a');
  });

  it('where nothing of that name is, nothing', () => {
    expect(names(over('a.nothing { above | }'))).toEqual([]);
    expect(names(over('back { above | }'))).toEqual([]);
  });
});

describe('what a finding is agreed to at', () => {
  const texts = (accepted: string) => ({
    'main.closet': `use "lib" as trade\n${closet}unit u t\nunit v trade.tall\naccept rod-near-wall at ${accepted}\n`,
    'lib/tall.closet':
      'project "Trade"\ntemplate tall { wall back { length 60in }\n zone a on back { width fill; shelf s { at 9in } } }\ntemplate wide { wall back { length 90in } }\nunit shown tall\n',
  });

  it('is a unit or a template of the project, or one of a library that is built here', () => {
    expect(names(cursorIn(texts('|')))).toEqual(['t', 'trade.tall', 'u', 'v']);
  });

  it('is what stands in it, in one of a library too', () => {
    expect(names(cursorIn(texts('trade.tall.|')))).toEqual(['trade.tall.a', 'trade.tall.a.s', 'trade.tall.back']);
  });
});

describe('a template that extends another', () => {
  const chain = `template a extends b { }
template b extends c { }
template c { }
template d { }
`;

  it('is not offered what extends it, directly or through others', () => {
    expect(names(chain.replace('template c', 'template c extends |'))).toEqual(['d']);
    expect(names(chain.replace('template b extends c', 'template b extends |c'))).toEqual(['c', 'd']);
    expect(names(chain.replace('template d', 'template d extends |'))).toEqual(['a', 'b', 'c']);
  });

  it('is offered those of a library by their names there', () => {
    const found = names(
      cursorIn({
        'main.closet': 'use "lib" as trade\ntemplate tall extends | { }\ntemplate other extends tall { }\n',
        'lib/tall.closet': 'project "Trade"\ntemplate tall extends wide { }\ntemplate wide { }\n',
      }),
    );
    expect(found).toEqual(['trade.tall', 'trade.wide']);
  });

  it('is like a policy in this', () => {
    const policies = names('policy a extends b { }\npolicy b extends | { }\npolicy c { }');
    expect(policies).toContain('c');
    expect(policies).not.toContain('a');
    expect(policies).not.toContain('b');
  });
});

describe('a mirrored unit', () => {
  const mirrored = `${closet}unit u t mirrored`;

  it('has its walls and openings as they stand on site', () => {
    const found = names(`${mirrored} { override | }`);
    expect(found).toContain('right');
    expect(found).not.toContain('left');
    expect(found).toContain('back');
    expect(names(`${closet}unit u t { override | }`)).toContain('left');
  });

  it('is overridden by the words of the wall that stands there', () => {
    const words = (wall: string): string[] => {
      const { snapshot, at } = cursor(`${mirrored} { override ${wall} { | } }`);
      return completionsAt(snapshot, at).flatMap(({ kind, label }) => (kind === 'word' ? [label] : []));
    };
    expect(words('right')).toContain('studs');
    expect(words('left')).toEqual([]);
  });

  it('is in a test of its template what it is in a building', () => {
    const test = (finds: string): string => closet.replace(/\}\n$/, `test "x" mirrored { finds ${finds} }\n}\n`);
    expect(names(test('corner-not-there at |'))).toContain('right');
    expect(names(test('corner-not-there at |'))).not.toContain('left');
    expect(headAt(test('corner-not-there at rig|ht'))).toContain('wall left');
  });

  it('is surveyed as it stands on site', () => {
    expect(names(`${mirrored}\nsurvey u { wall | }`)).toEqual(['back', 'right']);
    expect(names(`${mirrored}\nsurvey u { corner back | }`)).toContain('right');
    expect(names(`${closet}unit u t\nsurvey u { wall | }`)).toEqual(['back', 'left']);
    expect(names(`${mirrored.replace('opening door', 'opening left')}\nsurvey u { opening | }`)).toEqual(['right']);
  });

  it('is agreed to as it stands on site, and its template as it is drawn', () => {
    expect(names(`${mirrored}\naccept rod-near-wall at u.|`)).toContain('u.right');
    expect(names(`${mirrored}\naccept rod-near-wall at u.|`)).not.toContain('u.left');
    expect(names(`${mirrored}\naccept rod-near-wall at t.|`)).toContain('t.left');
  });

  it('computes with the dimensions of its template as they are drawn', () => {
    expect(names(`${mirrored}\nsurvey u { wall back { length | } }`)).toContain('left.length');
  });
});

describe('what would come back to itself', () => {
  const zone = (inside: string): string => `template t {
  wall back { length 60in; height 96in }
  board white-12
  zone a on back { width 20in; ${inside} }
  zone b on back after a { width 20in }
  zone c on back after b { width fill }
}
`;

  it('is no height: what stands under a fitting is nothing to be under, and may be what it is above', () => {
    const inside = (top: string): string =>
      zone(`shelf top { ${top} }; rod r { under top by 3in }; shelf low { at 8in }`);
    expect(names(inside('under |'))).toEqual(['low']);
    expect(names(inside('above |'))).toEqual(['low', 'r']);
    expect(names(zone('shelf x { under y by 3in }; shelf y { under z by 3in }; shelf z { under | }'))).toEqual([]);
    expect(names(zone('shelf x { above y by 3in }; shelf y { above | }'))).toEqual([]);
  });

  it('is no height of an override either, which takes the place of those that were drawn', () => {
    const text = zone('shelf top { at 80in }; rod r { under top by 3in }; rod s { at 40in }');
    expect(names(`${text}unit u t { override a.top { under | } }`)).toEqual(['s']);
    expect(names(`${text}unit u t { override a.r { at 30in }; override a.top { under | } }`)).toEqual(['r', 's']);
    expect(names(`${text}unit u t { override a.r { above | } }`)).toEqual(['s', 'top']);
  });

  it('is no start of a zone', () => {
    expect(names(zone('').replace('zone a on back', 'zone a on back after |'))).toEqual([]);
    expect(names(zone('').replace('after b', 'after |b'))).toEqual(['a', 'b']);
    expect(names(`${zone('')}template s extends t { zone a on back before | { } }`)).toEqual([]);
  });

  it('is no dimension', () => {
    const rooms = 'wall left { length 20in; height back.height }\n wall back { length 60in; height | }';
    expect(names(`template t { ${rooms} }`)).toEqual(['back.length', 'left.length']);
  });

  it('is no anchor of hardware', () => {
    const text = 'hardware x { anchor y }\nhardware y { anchor | }\nhardware z { is anchor }';
    expect(names(text)).toEqual(['z']);
  });
});

describe('values', () => {
  const parameters = `parameter l: length = 20in
  parameter n: count = 2
  parameter turn: angle = 10deg
  parameter wood: board = white-12
  parameter cup: hardware = cup
  parameter word: text = "x"`;
  const text = (inside: string, more = ''): string => `hardware cup { is cup; takes 1/4in }
hardware pin { is pin }
template t {
  ${parameters}
  wall back { length 60in; height 96in }
  board white-12
  zone a on back { width 20in; ${inside} }
  ${more}
}
`;

  it('are of the kind that is asked for', () => {
    expect(names(text('shelf s { at | }'))).toEqual(['a.width', 'back.height', 'back.length', 'l']);
    expect(names(text('shelf s { tilted by | }'))).toEqual(['turn']);
    expect(names(text('drawers d { count | }'))).toEqual(['n']);
    expect(names(text('drawers d { weight | }'))).toEqual([]);
  });

  it('are counts as well where something may be taken some times', () => {
    expect(names(text('shelf s { at 3in * | }'))).toEqual(['a.width', 'back.height', 'back.length', 'l', 'n']);
    expect(names(text('drawers d { weight 3 lb * | }'))).toEqual(['n']);
  });

  it('are those of the template in what a unit overrides and in what is measured of it', () => {
    const rest = 'shelf s { at 20in }';
    expect(names(`${text(rest)}unit u t { override a { width | } }`)).toEqual([
      'a.width',
      'back.height',
      'back.length',
      'l',
    ]);
    expect(names(`${text(rest)}unit u t { override a.s { board | } }`)).toEqual(['white-12', 'white-16', 'wood']);
    expect(names(`${text(rest)}unit u t\nsurvey u { wall back { length | } }`)).toContain('l');
    expect(names(`${text(rest)}unit u t { count | }`)).toEqual([]);
  });

  it('take the place of the number that they are put before', () => {
    const { snapshot, at, text: whole } = cursor(text('shelf s { at 3in + |21-3/4in }'));
    const found = completionsAt(snapshot, at).filter(({ label }) => label === 'l');
    expect(found.map(({ start, end }) => whole.slice(start, end))).toEqual(['21-3/4in']);
    expect(names(text('shelf s { at 21-|3/4in }'))).toEqual([]);
  });

  it('are a parameter for what holds a part', () => {
    expect(names(text('shelf s { held by | }'))).toEqual(['cup', 'cup', 'pin']);
    expect(names(text('shelf s { carried by | }'))).toEqual(['cup', 'cup', 'pin']);
  });

  it('are no dimensions of what has another thing of its name before it', () => {
    const room = 'wall front { length 60in; height 96in }; opening front { width 30in; height 80in }';
    expect(names(`template t { ${room}; zone a on front { width | } }`)).toEqual(['front.height', 'front.length']);
  });

  it('are no dimensions that another template leaves to be found', () => {
    const heir = 'template s extends t { zone a { width fill }; zone b on back after a { width | } }';
    expect(names(`${text('')}${heir}`)).not.toContain('a.width');
    expect(names(`${text('')}${heir.replace('fill', '3in')}`)).toContain('a.width');
  });
});

describe('things without a name of their own', () => {
  it('are overridden and agreed to by their kind', () => {
    expect(names(`${closet}unit u t { override | }`)).toEqual(
      expect.arrayContaining(['outlet', 'a.panels', 'a.row', 'a.inner.low']),
    );
    expect(names(`${closet}accept rod-near-wall at t.|`)).toContain('t.outlet');
  });

  it('are changed by the words of their kind', () => {
    const { snapshot, at } = cursor(`${closet}unit u t { override outlet { | } }`);
    expect(completionsAt(snapshot, at).map(({ label }) => label)).toContain('clear');
  });

  it('are expected in a test as they are built, if they can be named: a number is no name', () => {
    const found = names(closet.replace(/\}\n$/, 'test "x" { expect | }\n}\n'));
    expect(found).toEqual(expect.arrayContaining(['a', 'a.top', 'a.inner.low', 'a.panels.left']));
    for (const none of ['back', 'door', 'outlet', 'a.panels', 'a.row', 'a.row.1']) expect(found).not.toContain(none);
  });
});

describe('a row of shelves', () => {
  it('goes from one fitting up to another', () => {
    const row = (between: string): string => closet.replace('between chest and top', between);
    expect(names(row('between | and top'))).toEqual(['chest', 'r', 'top']);
    expect(names(row('between chest and |'))).toEqual(['r', 'top']);
    expect(names(row('between floor and |'))).toEqual(['chest', 'r', 'top']);
  });
});

describe('a corner', () => {
  const room = (inside: string): string => `template t {
  wall left { length 24in; height 96in }
  wall back { length 60in; height 96in }
  wall right { length 24in; height 96in }
  ${inside}
}
`;

  it('is of two walls that meet', () => {
    expect(names(room('corner | { }'))).toEqual(['back', 'left', 'right']);
    expect(names(room('corner left | { }'))).toEqual(['back']);
    expect(names(room('corner back | { }'))).toEqual(['left', 'right']);
    expect(names(`${room('')}unit u t mirrored\nsurvey u { corner right | { } }`)).toEqual(['back']);
    const polygon =
      'template p { wall n { length 9in }; wall e { length 9in }; wall s { length 9in }; corner n | { } }';
    expect(names(polygon)).toEqual(['e']);
    expect(names(polygon.replace('length 9in', 'length 9in; turns 60deg'))).toEqual(['e', 's']);
  });

  it('is owned by one of them', () => {
    expect(names(room('corner back left { owner | }'))).toEqual(['back', 'left']);
  });
});

describe('what there is one of', () => {
  it('is a survey of each unit of the project that stands for itself', () => {
    const found = names(
      cursorIn({
        'main.closet': `use "lib" as trade\n${closet}unit one t\nunit two t\nunit many t { count 3 }\nsurvey one { }\nsurvey | { }\n`,
        'lib/tall.closet': 'project "Trade"\ntemplate tall { wall back { length 60in } }\nunit shown tall\n',
      }),
    );
    expect(found).toEqual(['two']);
    expect(names(`${closet}unit one t\nsurvey |one { }\n`)).toEqual(['one']);
  });

  it('is the stock of a material', () => {
    expect(names('board oak { depth 12in; thickness 3/4in }\nstock | { }')).toEqual(['oak']);
  });
});

describe('a unit of measure', () => {
  const at = (inside: string): (string | undefined)[] => {
    const { snapshot, at: offset, text } = cursor(`template t { zone a { shelf s { ${inside} } } }`);
    return completionsAt(snapshot, offset).map(({ label, start, end }) => `${text.slice(start, end)} > ${label}`);
  };

  it('is gone on with behind its stroke', () => {
    expect(at('load 40 lbf/| ')).toEqual(['lbf/ > lbf/ft2']);
    expect(at('load 40 lbf/f| ')).toEqual(['lbf/f > lbf/ft2']);
  });

  it('does not stand behind a decimal point', () => {
    expect(at('load 2.| ')).toEqual([]);
  });
});
