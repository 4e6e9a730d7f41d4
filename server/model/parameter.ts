/** A parameter of a template, as it is declared. */
import type { Reading } from './reading.ts';

export interface Parameter {
  readonly name: string;
  readonly type: ParameterType;
  readonly reading: Reading;
}

export type ParameterType = 'length' | 'count' | 'angle' | 'board' | 'rod' | 'garment' | 'hardware' | 'text';
export const parameterTypes: readonly ParameterType[] = [
  'length',
  'count',
  'angle',
  'board',
  'rod',
  'garment',
  'hardware',
  'text',
];
