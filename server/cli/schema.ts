/** Short ways to write a JSON Schema, and the kinds of value that are in every report. */

export type Schema = Readonly<Record<string, unknown>>;

export const ref = (name: string, description?: string): Schema => ({ ...said(description), $ref: `#/$defs/${name}` });
export const text = (description?: string): Schema => ({ type: 'string', ...said(description) });
export const textOrNull = (description?: string): Schema => ({ type: ['string', 'null'], ...said(description) });
export const yesOrNo = (description?: string): Schema => ({ type: 'boolean', ...said(description) });
export const whole = (minimum: number, description?: string): Schema => ({
  type: 'integer',
  minimum,
  ...said(description),
});
export const list = (items: Schema, description?: string): Schema => ({ type: 'array', items, ...said(description) });
export const oneOf = (...values: readonly string[]): Schema => ({ enum: values });
export const orNull = (schema: Schema, description?: string): Schema => ({
  ...said(description),
  anyOf: [schema, { type: 'null' }],
});

/** All properties are required: what does not apply is null, an empty list or an empty text. */
export function object(properties: Readonly<Record<string, Schema>>, description?: string): Schema {
  return { type: 'object', ...said(description), properties, required: Object.keys(properties) };
}

/** What a command writes that answers with a list. */
export const answer = (command: string, property: string, item: string): Schema =>
  object({ command: { const: command }, [property]: list(ref(item)) });

function said(description: string | undefined): Schema {
  return description === undefined ? {} : { description };
}

export const length = ref('length');
export const lengthOrNull = orNull(length);
export const severity = ref('severity');
