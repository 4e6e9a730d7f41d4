/** The pages of the rules that ship beside the bundles. */
import { existsSync } from 'node:fs';

/** Address of their folder, with a slash at its end; undefined where they are not there, as before a build. */
export function rulePagesBeside(): string | undefined {
  const folder = new URL('rules/', import.meta.url);
  return existsSync(folder) ? folder.href : undefined;
}
