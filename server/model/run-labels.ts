/** What a statement about zones says, in the words of a finding: the labels of the solver. */
import type { Place } from '../../grammar/tree.ts';
import { type Show, showLength, showRange } from './show.ts';
import type { WidthSpec, ZoneSpec } from './spec.ts';

/** A statement as the solver's label: one object a statement, so that a conflict names it once. */
export interface Label {
  readonly place: Place;
  /** What it says: `zone shirts is 48in wide`. */
  readonly text: string;
  /** What could be made to take up less or to stand elsewhere: `zone shirts`. */
  readonly of?: string;
  /** What could be made longer where there is room around it: `zone tower`, of what is inside it. */
  readonly around?: string;
  /** What takes up height of its own: `drawers d`. */
  readonly tall?: string;
  readonly parameters: readonly string[];
  readonly role: 'length' | 'width' | 'start' | 'inside';
  /** Of a height that is told from another fitting: which of the two stands below. */
  readonly order?: readonly [lower: string, upper: string];
}

export function widthLabel(zone: ZoneSpec, show: Show): Label {
  const { width } = zone;
  const name = `${zone.kind} ${zone.path}`;
  return {
    place: width?.place ?? zone.place,
    text: width ? `${name} ${widthText(width, show)}` : `${name} has no width`,
    parameters: width?.parameters ?? [],
    role: 'width',
    ...(width && (width.least > 0 || width.kind === 'share') && { of: name }),
  };
}

export function widthText(width: WidthSpec, show: Show): string {
  const bounds = [
    ...(width.least > 0 ? [`at least ${showLength(width.least, show)}`] : []),
    ...(width.most !== undefined ? [`at most ${showLength(width.most, show)}`] : []),
  ].join(' and ');
  switch (width.kind) {
    case 'fixed':
      return `is ${showLength(width.least, show)} wide`;
    case 'range':
      return `is ${showRange(width.least, width.most, show)} wide`;
    case 'fill':
      return `takes what is left${bounds && `, ${bounds}`}`;
    case 'share':
      return `takes an equal share${bounds && `, ${bounds}`}`;
  }
}

export function startLabel(zone: ZoneSpec, show: Show): Label {
  const { start } = zone;
  const name = `${zone.kind} ${zone.path}`;
  const base = { place: 'place' in start ? start.place : zone.place, role: 'start' as const };
  switch (start.kind) {
    case 'end':
      return { ...base, text: `${name} begins at the ${start.side} end`, parameters: [] };
    case 'next':
      return {
        ...base,
        text: `${name} stands ${start.side === 'right' ? 'after' : 'before'} ${start.zone}${start.by > 0 ? ` by ${showLength(start.by, show)}` : ''}`,
        parameters: [],
      };
    case 'from':
      return {
        ...base,
        text: `${name} stands ${showLength(start.offset.value, show)} from the ${start.side} end`,
        parameters: start.offset.parameters,
      };
    case 'centred':
      return { ...base, text: `${name} is centred`, parameters: [] };
  }
}
