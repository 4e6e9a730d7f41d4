/**
 * Loaded before a program: whatever would reach another machine or start another program is written down, and fails. What
 * QUIET_MAY names may be started. Each line of the file QUIET_LOG is something that was tried.
 */
const { appendFileSync } = require('node:fs');

const allowed = (process.env.QUIET_MAY ?? '').split(' ');

function refuse(what) {
  appendFileSync(process.env.QUIET_LOG, `${what}\n`);
  throw new Error(`${what} was tried`);
}

for (const [module, names] of Object.entries({
  net: ['connect', 'createConnection', 'createServer'],
  tls: ['connect', 'createServer'],
  dgram: ['createSocket'],
  dns: ['lookup', 'resolve', 'resolve4', 'resolve6', 'resolveTxt'],
  http: ['request', 'get', 'createServer'],
  https: ['request', 'get'],
  http2: ['connect'],
})) {
  const of = require(`node:${module}`);
  for (const name of names) of[name] = () => refuse(`${module}.${name}`);
}
require('node:net').Socket.prototype.connect = () => refuse('net.Socket.connect');

const children = require('node:child_process');
for (const name of ['spawn', 'spawnSync', 'exec', 'execSync', 'execFile', 'execFileSync', 'fork']) {
  const own = children[name];
  children[name] = (program, ...rest) => {
    if (!allowed.includes(program)) refuse(`child_process.${name} ${program}`);
    return own(program, ...rest);
  };
}

for (const name of ['fetch', 'WebSocket', 'EventSource', 'XMLHttpRequest']) globalThis[name] = () => refuse(name);
require('node:module').syncBuiltinESMExports();
