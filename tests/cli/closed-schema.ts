/** The schema of the command's output, held to closely. */
import { Ajv2020, type ValidateFunction } from 'ajv/dist/2020.js';

type Schema = Record<string, unknown>;

/** The schema with every unknown field refused. Parts of an `allOf` and `oneOf` are closed by what holds them. */
function closed(schema: unknown, held = false): unknown {
  if (Array.isArray(schema)) return schema.map((item) => closed(item, held));
  if (typeof schema !== 'object' || schema === null) return schema;
  const copy = Object.fromEntries(
    Object.entries(schema as Schema).map(([key, value]) => [
      key,
      // What stands under these is a name of ours, not a word of the schema language.
      key === 'properties' || key === '$defs'
        ? Object.fromEntries(
            Object.entries(value as Schema).map(([name, s]) => [
              name,
              closed(s, key === '$defs' && name === 'project'),
            ]),
          )
        : closed(value, key === 'allOf' || key === 'oneOf'),
    ]),
  );
  const whole = 'properties' in copy || 'allOf' in copy || 'oneOf' in copy;
  return whole && !held ? { ...copy, type: 'object', unevaluatedProperties: false } : copy;
}

/** Refuses what is not of the schema, and every field that it does not know. */
export function validator(schema: object): ValidateFunction {
  return new Ajv2020({ strict: true, strictRequired: false, allowUnionTypes: true, allErrors: true }).compile(
    closed(schema) as Schema,
  );
}
