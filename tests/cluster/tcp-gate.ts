/** A door between a node and a service: passes bytes while open, holds everything when shut, as a cut cable does. */
import { connect, createServer, type Socket } from 'node:net';

export interface TcpGate {
  readonly port: number;
  /** How many connections were held since it was shut. */
  readonly held: () => number;
  /** Nothing passes and nobody is told. */
  shut(): void;
  /** Whoever connects from now on gets through; what was held stays held. */
  letNewThrough(): void;
  /** Ends what was held, so that both sides connect anew. */
  open(): void;
  /** Leads whoever connects from now on to another port, as a balancer does; those that are through stay. */
  leadTo(port: number): void;
  close(): Promise<void>;
}

export async function startGate(port: number): Promise<TcpGate> {
  const pairs = new Set<readonly [Socket, Socket]>();
  let target = port;
  let isOpen = true;
  let held = 0;
  const server = createServer((near) => {
    const far = connect(target, '127.0.0.1');
    const pair = [near, far] as const;
    pairs.add(pair);
    const end = (): void => {
      near.destroy();
      far.destroy();
      pairs.delete(pair);
    };
    for (const socket of pair) {
      socket.on('error', end);
      socket.on('close', end);
    }
    near.pipe(far);
    far.pipe(near);
    if (!isOpen) hold(pair);
  });
  const hold = ([near, far]: readonly [Socket, Socket]): void => {
    near.unpipe(far);
    far.unpipe(near);
    near.pause();
    far.pause();
    held += 1;
  };
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const address = server.address();
  if (address === null || typeof address === 'string') throw new Error('the gate has no port');
  return {
    port: address.port,
    held: () => held,
    shut: () => {
      isOpen = false;
      held = 0;
      for (const pair of pairs) hold(pair);
    },
    letNewThrough: () => {
      isOpen = true;
    },
    open: () => {
      isOpen = true;
      for (const [near, far] of [...pairs]) {
        near.destroy();
        far.destroy();
      }
    },
    leadTo: (other) => {
      target = other;
    },
    close: async () => {
      for (const [near, far] of [...pairs]) {
        near.destroy();
        far.destroy();
      }
      await new Promise((resolve) => server.close(resolve));
    },
  };
}
