/**
 * The built command with one list of words after the other, in one process: for many questions that each take less than the
 * start of a process. `node one-after-the-other.cjs COMMAND` reads the lists as JSON and writes what each run said as JSON.
 */
const { readFileSync } = require('node:fs');

const [, , command] = process.argv;
const asked = JSON.parse(readFileSync(0, 'utf8'));
const told = [];
let now;
const say = process.stdout.write.bind(process.stdout);

for (const [stream, name] of [
  [process.stdout, 'out'],
  [process.stderr, 'err'],
]) {
  stream.setMaxListeners(0);
  stream.write = (text, encoding, done) => {
    now[name] += typeof text === 'string' ? text : Buffer.from(text).toString();
    const call = typeof encoding === 'function' ? encoding : done;
    if (call) process.nextTick(call);
    return true;
  };
}
process.setMaxListeners(0);

function next() {
  if (now) told.push({ ...now, status: process.exitCode ?? 0 });
  const words = asked[told.length];
  if (!words) {
    process.exitCode = 0;
    say(JSON.stringify(told));
    return;
  }
  now = { out: '', err: '' };
  process.exitCode = 0;
  process.argv = [process.execPath, command, ...words];
  delete require.cache[require.resolve(command)];
  require(command);
}

// A command is done when nothing is left to be done.
process.on('beforeExit', () => {
  if (told.length < asked.length) setImmediate(next);
});
next();
