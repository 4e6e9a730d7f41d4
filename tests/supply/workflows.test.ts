/**
 * Workflows run with rights that a pull request from outside must not get at. source: GitHub documentation, "Secure use
 * reference" and "Script injections": actions by the hash of a commit, the fewest permissions, no trigger that runs what
 * comes from outside with the rights of the inside, nothing that somebody wrote inside of a script.
 */
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { root } from './lockfile.ts';

interface Job {
  readonly permissions?: unknown;
  readonly uses?: string;
  readonly steps?: readonly { uses?: string; run?: string; with?: Record<string, unknown> }[];
}

const folder = path.join(root, '.github/workflows');
const workflows = readdirSync(folder).map((name) => [name, readFileSync(path.join(folder, name), 'utf8')] as const);

/** With what nobody outside should ever run: a secret that must not be there. */
const trusted = ['pull_request_target', 'workflow_run', 'issue_comment', 'issues', 'discussion', 'repository_dispatch'];
/** What a job may be allowed. */
const harmless = new Set(['contents: read', 'security-events: write']);

/** What should not be in a workflow, in words. */
function wrongIn(text: string): string[] {
  const workflow = parse(text) as { on: object | string | string[]; permissions?: unknown; jobs: Record<string, Job> };
  const on =
    typeof workflow.on === 'string'
      ? [workflow.on]
      : Array.isArray(workflow.on)
        ? workflow.on
        : Object.keys(workflow.on);
  const wrong = on.filter((event) => trusted.includes(event)).map((event) => `runs on ${event}`);
  if (/\bsecrets\b/.test(text)) wrong.push('knows of secrets');
  if (JSON.stringify(workflow.permissions) !== '{}') wrong.push('does not begin with no permission at all');
  for (const [name, { permissions, steps = [], uses }] of Object.entries(workflow.jobs)) {
    if (typeof permissions !== 'object' || permissions === null) wrong.push(`${name}: does not name its permissions`);
    for (const [what, how] of Object.entries(permissions ?? {}))
      if (!harmless.has(`${what}: ${how}`)) wrong.push(`${name}: may ${how} ${what}`);
    for (const step of [{ ...(uses !== undefined && { uses }) }, ...steps] as NonNullable<Job['steps']>) {
      if (step.run?.includes('${{')) wrong.push(`${name}: an expression in a script`);
      if (step.uses === undefined) continue;
      // With the version behind it, for whoever brings it up to date.
      const line = text.split('\n').find((one) => one.includes(`uses: ${step.uses}`)) ?? '';
      if (!/uses: [\w-]+\/[\w./-]+@[0-9a-f]{40} # v\d+\.\d+\.\d+$/.test(line)) wrong.push(`${name}: ${step.uses}`);
      if (step.uses.startsWith('actions/checkout') && step.with?.['persist-credentials'] !== false)
        wrong.push(`${name}: leaves its token lying about`);
      if (JSON.stringify(step.with ?? {}).includes('github.event'))
        wrong.push(`${name}: checks out what comes from outside`);
    }
  }
  return wrong;
}

describe('the workflows', () => {
  it('hold nothing of the kind', () => {
    expect(workflows.length).toBeGreaterThan(0);
    for (const [name, text] of workflows) expect(wrongIn(text), name).toEqual([]);
  });

  const expression = (what: string): string => `\${{ ${what} }}`;
  const sound = workflows[0]?.[1] ?? '';
  it.each([
    ['an action by a tag', /@[0-9a-f]{40} # v[\d.]+/, '@v4'],
    ['the rights of the inside', 'workflow_call:', 'pull_request_target:'],
    ['an input in a script', '"$FOLDER" --format github', `${expression('inputs.folder')} --format github`],
    [
      'the title of a pull request in a script',
      '"$BASE" HEAD',
      `"${expression('github.event.pull_request.title')}" HEAD`,
    ],
    ['the right to write', 'contents: read\n      security', 'contents: write\n      security'],
    ['all rights', 'permissions: {}', 'permissions: write-all'],
    ['a token left in the folder', 'persist-credentials: false', 'persist-credentials: true'],
    ['a secret', `VERSION: ${expression('inputs.version')}`, `VERSION: ${expression('secrets.TOKEN')}`],
  ])('would be told of %s', (_, before, after) => {
    const broken = sound.replace(before, after);
    expect(broken).not.toBe(sound);
    expect(wrongIn(broken)).not.toEqual([]);
  });
});
