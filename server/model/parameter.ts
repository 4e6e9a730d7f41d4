/** A parameter of a template, as it is declared. */
import type { ParameterType } from './parameter-types.ts';
import type { Reading } from './reading.ts';

export interface Parameter {
  readonly name: string;
  readonly type: ParameterType;
  readonly reading: Reading;
}
