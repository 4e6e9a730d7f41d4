/** What the value of a parameter can be. */

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
