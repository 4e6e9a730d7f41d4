/** The tool could not run. */
export { Stop } from '../writing/stop.ts';
