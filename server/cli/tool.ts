/** What the tool calls itself. */
import packageJson from '../../package.json' with { type: 'json' };

export const tool = { name: 'storypole', version: packageJson.version } as const;
