/** Reads the settings, listens, and stops in good order. `npm start` runs this from dist/. */
import './node-env.ts';
import { mkdirSync } from 'node:fs';
import { networkInterfaces } from 'node:os';
import { fileURLToPath } from 'node:url';
import { getConnInfo } from '@hono/node-server/conninfo';
import { plugAccess } from './access/index.ts';
import { authorizeByAddress } from './authorize.ts';
import { isFromThisMachine } from './client-address.ts';
import { machineClock as clock } from './clock.ts';
import { Log } from './log.ts';
import { Metrics } from './metrics.ts';
import { openAccessStore, openRelay, openStore } from './open.ts';
import { ownAddresses } from './own-addresses.ts';
import { forwardedAddress, forwardedSecure, startServer } from './serve.ts';
import { readSettings } from './settings.ts';
import { lockFolder } from './store/index.ts';
import { answeredByLog, unattended } from './unattended.ts';

const settings = readSettings(process.env);
const log = new Log((line) => process.stdout.write(line), clock.now, settings.logLevel);
const metrics = new Metrics();
// With a database elsewhere the server keeps nothing on its own disk.
if (settings.databaseUrl === null) {
  mkdirSync(settings.dataDir, { recursive: true });
  // Kept until the end: a lock that nobody refers to would be collected, and let go.
  process.on('exit', lockFolder(settings.dataDir));
}

const store = await openStore(settings, metrics, log, clock);
const access =
  settings.access === 'address'
    ? null
    : plugAccess({
        store: await openAccessStore(settings, log),
        isOpen: async (id) => (await store.board(id))?.kind === 'demo',
        now: clock.now,
        addressOf: (c) =>
          forwardedAddress(
            c.req.header('x-forwarded-for'),
            getConnInfo(c).remote.address ?? 'unknown',
            settings.trustProxy,
          ),
        isSecure: (c) => forwardedSecure(c.req.header('x-forwarded-proto'), settings.trustProxy),
        ownAddresses: (c) =>
          isFromThisMachine(
            (name) => c.req.header(name),
            getConnInfo(c).remote.address ?? '',
            settings.trustProxy,
          )
            ? ownAddresses(settings.host, settings.port, networkInterfaces())
            : [],
      });
if (access === null) log.warn('access-by-address', { message: 'whoever knows a board works on it' });

const server = await startServer({
  settings,
  store,
  relay: await openRelay(settings, log, clock),
  metrics,
  log,
  clock,
  authorize: access?.authorize ?? authorizeByAddress,
  ...(access && {
    onMade: access.onMade,
    api: access.api,
    access: access.access,
    onClose: access.close,
  }),
  pageFolder: fileURLToPath(new URL('../web', import.meta.url)),
  worker: new URL('./worker.js', import.meta.url),
  demoFolder: fileURLToPath(new URL('../../demo-data', import.meta.url)),
});
const answerable = answeredByLog(log);
if (access !== null) {
  const dropSessions = (): void => {
    unattended(answerable, 'sessions', async () => {
      const count = await access.access.dropEndedSessions();
      if (count > 0) log.info('sessions-dropped', { count });
    });
  };
  dropSessions();
  clock.every(24 * 60 * 60 * 1000, dropSessions);
}
log.info('listening', { host: server.host, port: server.port });
process.stdout.write(`Larkboard is at http://${server.host}:${server.port}\n`);

let isStopping = false;
async function stop(signal: string): Promise<void> {
  if (isStopping) return;
  isStopping = true;
  log.info('stopping', { signal });
  const unsaved = await server.close();
  if (unsaved > 0) log.error('stopped-with-unsaved-edits', { rooms: unsaved });
  else log.info('stopped', {});
  process.exitCode = unsaved > 0 ? 1 : 0;
}
for (const signal of ['SIGTERM', 'SIGINT'])
  process.on(signal, () => unattended(answerable, 'stop', () => stop(signal)));
