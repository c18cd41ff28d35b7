import { machineClock } from '../../server/index.ts';
import { RedisRelay } from '../../server/relay/index.ts';
import { relayContract } from '../server/relay-contract.ts';
import { startRedis } from './real-services.ts';

relayContract('Redis', async () => {
  const redis = await startRedis();
  const open = (): Promise<RedisRelay> =>
    RedisRelay.open({ url: redis.url, clock: machineClock, onState: () => {} });
  const nodes = [await open(), await open(), await open()] as const;
  return {
    nodes,
    cut: () => redis.stop('kill'),
    mend: () => redis.start(),
    dispose: async () => {
      await Promise.all(nodes.map((node) => node.close()));
      await redis.dispose();
    },
  };
});
