/** A shelf or rod of a layout as a beam, with everything that its sag and its stress depend on; or what is missing. */

import { alikeOnce } from '../../model/alike.ts';
import type { Working } from '../../model/finding.ts';
import type { RodLayout, ShelfLayout } from '../../model/layout.ts';
import { type Show, showLength } from '../../model/show.ts';
import { subtract } from '../../model/ticks.ts';
import type { CheckInput } from '../check.ts';
import type { Fixings } from '../fixings/schedule.ts';
import { inertiaText, lineText, modulusText, stiffnessText } from './amounts.ts';
import { type Solved, solveBeam } from './beam.ts';
import type { Beam } from './beam-input.ts';
import { asBeamLoads, type Carried, carriedBy, hangingOn } from './carried.ts';
import { perSchedule } from './once.ts';
import { type Rest, restsOf, restsText, supportsOf } from './rests.ts';
import { type Elastic, edgedShelf, type Rigidity, rectangle, rigidity, solidRound, tube } from './section.ts';
import type { EdgeStrip, ShelfBeam } from './stiffen.ts';
import { GRAVITY, metres } from './units.ts';

/** A fibre whose stress is compared with a strength. */
export interface Fibre {
  /** `board white-12`. */
  readonly of: string;
  /** Pa for a bending moment of 1 N m. */
  readonly stressPerMoment: number;
  /** Pa; undefined where the material does not state it. */
  readonly strength: number | undefined;
}

export interface Prepared {
  readonly kind: 'prepared';
  readonly fitting: ShelfLayout | RodLayout;
  readonly rests: readonly Rest[];
  readonly carried: Carried;
  /** Its own weight, N/m; nought where it is not known. */
  readonly own: number;
  readonly beam: Beam;
  readonly answer: Solved;
  readonly fibres: readonly Fibre[];
  /** Of a shelf: to try what would stiffen it. */
  readonly shelf: ShelfBeam | undefined;
  /** Stiffness, section, loads and supports, as people read them. */
  readonly working: () => readonly Working[];
}

export interface Missing {
  readonly kind: 'missing';
  readonly needs: readonly string[];
}

/** Of a rod that stands at its ends, or a shelf: the length of the beam, m. */
function lengthOf({ box }: ShelfLayout | RodLayout): number {
  return metres(subtract(box.x[1], box.x[0]));
}

interface Made {
  readonly rigidity: Rigidity;
  readonly own: number;
  readonly fibres: readonly Fibre[];
  readonly shelf: Omit<ShelfBeam, 'length' | 'supports' | 'loads'> | undefined;
  readonly working: () => readonly Working[];
}

const prepared = perSchedule<Prepared | Missing>();

/** A shelf that no survey moves is one and the same in all units that draw it alike: it is computed once for each way it is held. */
const alike = alikeOnce<ShelfLayout | RodLayout, Prepared | Missing>(4);

export function prepareShelf(shelf: ShelfLayout, input: CheckInput, schedule: Fixings): Prepared | Missing {
  return prepared(schedule, input, shelf.path, () => shelfAsBeam(shelf, input, schedule));
}

export function prepareRod(rod: RodLayout, input: CheckInput, schedule: Fixings): Prepared | Missing {
  return prepared(schedule, input, rod.path, () => rodAsBeam(rod, input, schedule));
}

function shelfAsBeam(shelf: ShelfLayout, input: CheckInput, schedule: Fixings): Prepared | Missing {
  const { policy, show } = input;
  const rests = restsOf(shelf, input.layout, schedule);
  return alike(shelf, [policy.demands, show, rests], () => {
    const length = lengthOf(shelf);
    const carried = carriedBy(shelf, policy.demands, length, metres(shelf.depth), show);
    return prepare(shelf, show, rests, length, carried, makeShelf(shelf, show));
  });
}

function rodAsBeam(rod: RodLayout, input: CheckInput, schedule: Fixings): Prepared | Missing {
  const { policy, show } = input;
  const rests = restsOf(rod, input.layout, schedule);
  return alike(rod, [policy.demands, show, rests], () => {
    const length = lengthOf(rod);
    const carried = hangingOn(rod, policy.demands, length, show);
    return prepare(rod, show, rests, length, carried, makeRod(rod, show));
  });
}

function prepare(
  fitting: ShelfLayout | RodLayout,
  show: Show,
  rests: readonly Rest[],
  length: number,
  carried: ReturnType<typeof carriedBy>,
  made: Made | string,
): Prepared | Missing {
  const needs: string[] = [];
  if ('kind' in carried) needs.push(carried.needs);
  if (typeof made === 'string') needs.push(made);
  if (rests.length < 2) needs.push(`two places that hold ${fitting.kind} ${fitting.path}`);
  if ('kind' in carried || typeof made === 'string' || rests.length < 2) return { kind: 'missing', needs };

  const supports = supportsOf(rests);
  const loads = asBeamLoads({ perMetre: carried.perMetre + made.own, middle: carried.middle }, length);
  const beam: Beam = { length, rigidity: made.rigidity, supports, loads };
  const answer = solveBeam(beam);
  // What is drawn off its wall, or without a length, has been reported where it is drawn.
  if (answer.kind === 'refused') return { kind: 'missing', needs: [`a shape that can be computed: ${answer.words}`] };
  return {
    kind: 'prepared',
    fitting,
    rests,
    carried,
    own: made.own,
    beam,
    answer,
    fibres: made.fibres,
    shelf: made.shelf && { ...made.shelf, length, supports, loads: asBeamLoads(carried, length) },
    working: () => [
      ...made.working(),
      { what: 'load', value: lineText(carried.perMetre, show), how: carried.words },
      ...(made.own > 0 ? [{ what: 'own weight', value: lineText(made.own, show) }] : []),
      { what: 'held by', value: restsText(rests, show), how: 'from its left end' },
    ],
  };
}

/** Or what is missing. */
function makeShelf(shelf: ShelfLayout, show: Show): Made | string {
  const { board, thickness, edge } = shelf;
  if (!board) return `the board of shelf ${shelf.path}`;
  const material = elastic(board);
  if (!material) return `the stiffness of board ${board.name}`;
  const [breadth, thick] = [metres(shelf.depth), metres(thickness)];
  const section = rectangle(breadth, thick);
  if (!section) return `the thickness of board ${board.name}`;
  // kg/m2 of its face to N/m of its length, and to kg/m3 for a board of another thickness.
  const weight = (board.weight ?? 0) * breadth * GRAVITY;
  const strip = edge && stripOf(shelf);
  if (edge && !strip) return `the stiffness and thickness of board ${edge.board.name}, of its front edge`;
  const plain = { breadth, thickness: thick, material, density: board.weight && board.weight / thick };
  const common = (): Working[] => [
    { what: 'stiffness E', value: stiffnessText(material.stiffness, show), how: `board ${board.name}` },
    {
      what: 'section of the board',
      value: `${showLength(shelf.depth, show)} x ${showLength(thickness, show)}`,
      how: 'depth x thickness',
    },
  ];
  const fibre = `board "${board.name}"`;
  const composite = strip && edgedShelf({ board: plain, edge: strip });
  if (!edge || !strip || !composite) {
    return {
      rigidity: rigidity(section, material),
      own: weight,
      fibres: [{ of: fibre, stressPerMoment: 1 / section.modulus, strength: board.strength }],
      shelf: plain,
      working: () => [
        ...common(),
        { what: 'second moment of area I', value: inertiaText(section.inertia, show), how: 'b t3 / 12' },
        { what: 'section modulus S', value: modulusText(section.modulus, show), how: 'b t2 / 6' },
      ],
    };
  }
  return {
    rigidity: composite,
    own: weight + (edge.board.weight ?? 0) * strip.height * GRAVITY,
    fibres: [
      { of: fibre, stressPerMoment: composite.stressPerMoment.board, strength: board.strength },
      {
        of: `its edge of ${edge.board.name}`,
        stressPerMoment: composite.stressPerMoment.edge,
        strength: edge.board.strength,
      },
    ],
    shelf: { ...plain, edge: strip },
    working: () => [
      ...common(),
      {
        what: 'front edge',
        value: `${showLength(edge.height, show)} of ${edge.board.name}`,
        how: 'upright, glued along its whole length, flush with the upper face',
      },
      {
        what: 'ratio of stiffnesses n',
        value: composite.modularRatio.toPrecision(3),
        how: 'E of the edge / E of the board',
      },
      { what: 'second moment of area I', value: inertiaText(composite.inertia, show), how: 'transformed section' },
    ],
  };
}

function stripOf({ edge }: ShelfLayout): EdgeStrip | undefined {
  const material = edge && elastic(edge.board);
  if (!material || edge.board.thickness === undefined || edge.board.thickness <= 0 || edge.height <= 0)
    return undefined;
  return { height: metres(edge.height), thickness: metres(edge.board.thickness), material };
}

function makeRod(rod: RodLayout, show: Show): Made | string {
  const { material, diameter } = rod;
  if (!material) return `the material of rod ${rod.path}`;
  const stiff = elastic(material);
  if (!stiff) return `the stiffness of rod ${material.name}`;
  const section =
    material.tube === undefined ? solidRound(metres(diameter)) : tube(metres(diameter), metres(material.tube));
  if (!section) return `a diameter and wall of rod ${material.name} that go together`;
  const hollow = material.tube === undefined ? '' : `, wall ${showLength(material.tube, show)}`;
  return {
    rigidity: rigidity(section, stiff),
    own: (material.weight ?? 0) * GRAVITY,
    fibres: [{ of: `rod "${material.name}"`, stressPerMoment: 1 / section.modulus, strength: material.strength }],
    shelf: undefined,
    working: () => [
      { what: 'stiffness E', value: stiffnessText(stiff.stiffness, show), how: `rod ${material.name}` },
      { what: 'diameter', value: `${showLength(diameter, show)}${hollow}` },
      {
        what: 'second moment of area I',
        value: inertiaText(section.inertia, show),
        how: material.tube === undefined ? 'pi D4 / 64' : 'pi (D4 - d4) / 64',
      },
      { what: 'section modulus S', value: modulusText(section.modulus, show), how: '2 I / D' },
    ],
  };
}

function elastic({
  stiffness,
  shearStiffness,
}: {
  readonly stiffness: number | undefined;
  readonly shearStiffness: number | undefined;
}): Elastic | undefined {
  if (stiffness === undefined || stiffness <= 0) return undefined;
  return { stiffness, shear: shearStiffness !== undefined && shearStiffness > 0 ? shearStiffness : undefined };
}
