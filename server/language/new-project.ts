/** A small project to begin with, in the style of Quarry Lane: complete, checked without errors, and short enough to be read in one go. */

export type Measure = 'inches' | 'millimetres';

export interface NewProjectAsked {
  /** What the project is called. */
  readonly name: string;
  readonly measure: Measure;
}

export interface NewProject {
  /** Paths from the project's folder, with forward slashes. */
  readonly files: readonly { readonly path: string; readonly text: string }[];
  /** The file to look at first. */
  readonly main: string;
}

/** The files of a new project. Whoever writes them writes over nothing. */
export function newProject({ name, measure }: NewProjectAsked): NewProject {
  const sizes = measure === 'millimetres' ? metric : imperial;
  return {
    files: [
      { path: 'project.closet', text: projectText(titleOf(name), sizes) },
      { path: 'materials.closet', text: materialsText(sizes) },
      { path: 'templates/reach-in.closet', text: templateText(sizes) },
      { path: 'units.closet', text: unitsText(sizes) },
    ],
    main: 'templates/reach-in.closet',
  };
}

/** A text in quotation marks ends on its own line and holds none. */
function titleOf(name: string): string {
  const title = name
    .replaceAll('"', "'")
    .replaceAll(/[\p{Cc}\p{Zl}\p{Zp}]+/gu, ' ')
    .trim();
  return title === '' ? 'New project' : title;
}

interface Sizes {
  readonly show: string;
  readonly kerf: string;
  readonly sawStep: string;
  readonly keep: string;
  readonly highestRod: string;
  readonly board: string;
  readonly depth: string;
  readonly thickness: string;
  readonly rod: string;
  readonly stock: readonly [string, string];
  readonly least: string;
  readonly most: string;
  readonly side: string;
  readonly height: string;
  readonly studs: string;
  readonly door: string;
  readonly doorHeight: string;
  readonly hang: string;
  readonly high: string;
  readonly low: string;
  readonly below: string;
  readonly out: string;
  readonly tower: string;
  readonly pitch: string;
  readonly shoes: string;
  readonly coats: string;
  readonly coatShelf: string;
  readonly widths: readonly [string, string, string];
  readonly found: readonly [string, string, string];
  readonly heights: readonly [string, string, string];
}

const imperial: Sizes = {
  show: 'inches to 1/16in',
  kerf: '1/8in',
  sawStep: '1/16in',
  keep: '24in',
  highestRod: '84in',
  board: 'white-12',
  depth: '12in',
  thickness: '3/4in',
  rod: '1-1/16in',
  stock: ['8ft', '12ft'],
  least: '92in',
  most: '98in',
  side: '25in',
  height: '96in',
  studs: 'every 16in from 14-1/2in',
  door: '60in',
  doorHeight: '80in',
  hang: '48in',
  high: '84in',
  low: '42in',
  below: '3in',
  out: '9in',
  tower: '24in',
  pitch: '10in to 14in',
  shoes: '8in',
  coats: '18in',
  coatShelf: '72in',
  widths: ['93-3/4in', '93-3/4in', '96-1/4in'],
  found: ['93-7/8in', '93-3/4in', '93-1/2in'],
  heights: ['6in', '42in', '84in'],
};

const metric: Sizes = {
  show: 'millimetres',
  kerf: '3.2mm',
  sawStep: '1mm',
  keep: '600mm',
  highestRod: '2100mm',
  board: 'white-300',
  depth: '300mm',
  thickness: '19mm',
  rod: '28mm',
  stock: ['2440mm', '3660mm'],
  least: '2340mm',
  most: '2490mm',
  side: '635mm',
  height: '2440mm',
  studs: 'every 400mm from 360mm',
  door: '1500mm',
  doorHeight: '2030mm',
  hang: '1200mm',
  high: '2130mm',
  low: '1065mm',
  below: '80mm',
  out: '230mm',
  tower: '610mm',
  pitch: '250mm to 360mm',
  shoes: '200mm',
  coats: '460mm',
  coatShelf: '1830mm',
  widths: ['2380mm', '2380mm', '2445mm'],
  found: ['2384mm', '2381mm', '2375mm'],
  heights: ['150mm', '1065mm', '2130mm'],
};

function projectText(title: string, s: Sizes): string {
  return `// Every .closet file in this folder and under it belongs to this project.

project "${title}" {
  language 1
  show ${s.show}
  // What a cut takes, and the scale that the saw is set by.
  kerf ${s.kerf}
  saw-step ${s.sawStep}
  keep-offcuts from ${s.keep}
  policy everyday
}

/// What this job asks of every closet. A unit can ask for more by a policy of its own.
policy everyday {
  limit rod-height at most ${s.highestRod}
}
`;
}

function materialsText(s: Sizes): string {
  const [short, long] = s.stock;
  return `// What shelves, panels and rods are cut from, and in which lengths it can be had.
// Put in what you have: sizes and prices here are only there to begin with.

board ${s.board} {
  depth ${s.depth}
  thickness ${s.thickness}
}

stock ${s.board} {
  length ${short} unlimited
  length ${long} unlimited
}

/// An end cup takes its share at each end of the rod.
rod chrome {
  diameter ${s.rod}
}

stock chrome {
  length ${long} unlimited
}
`;
}

function templateText(s: Sizes): string {
  return `/// Bedroom closet behind sliding doors: double hang, tower, long hang.
/// Change a number and see what follows: point at a shelf for its cut length.
template reach-in {
  parameter width: length from ${s.least} to ${s.most}
  parameter door: length = ${s.door}

  depth ${s.depth}
  board ${s.board}
  pole chrome

  // Each wall is seen by a person inside who faces it; left is that person's left.
  wall left { length ${s.side}; height ${s.height} }
  wall back { length width; height ${s.height}; studs ${s.studs} }
  wall right { length ${s.side}; height ${s.height} }
  wall front { length width; height ${s.height} }
  opening front { width door; height ${s.doorHeight}; centred; leaves sliding }

  zone shirts on back {
    width ${s.hang}
    // Heights are from the finished floor: to the underside of a shelf, to the centre of a rod.
    shelf high { at ${s.high} }
    rod upper { under high by ${s.below}; from wall ${s.out}; for shirt }
    shelf low { at ${s.low} }
    rod lower { under low by ${s.below}; from wall ${s.out}; for folded-trousers }
  }

  zone tower on back after shirts {
    width ${s.tower}
    panels sides
    shelf top { at ${s.high}; fixed }
    shelves loose between shoes and top { count 5; pitch from ${s.pitch} }
    shelf shoes { at ${s.shoes}; fixed }
  }

  // The long hang takes what the wall has left.
  zone coats on back after tower {
    width fill at least ${s.coats}
    shelf top { at ${s.coatShelf} }
    rod long { under top by ${s.below}; from wall ${s.out}; for long-coat }
  }
}
`;
}

function unitsText(s: Sizes): string {
  const [first, second, third] = s.widths;
  const [a, b, c] = s.found;
  const [low, middle, high] = s.heights;
  return `// One line for each closet to be built. Neighbours are each other in a mirror.

unit A-101-bedroom reach-in { floor 1; flat A-101; width ${first} }
unit A-102-bedroom reach-in mirrored { floor 1; flat A-102; width ${second} }
unit A-201-bedroom reach-in { floor 2; flat A-201; width ${third} }

// What was measured on site goes before what is drawn. Take the marks off and put in what the tape says:
//
// survey A-101-bedroom {
//   taken "12 March, tape"
//   wall back {
//     length ${a} at ${low}
//     length ${b} at ${middle}
//     length ${c} at ${high}
//   }
// }
`;
}
