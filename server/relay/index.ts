export { RedisRelay } from './redis-relay.ts';
export { ACCESS_CHANNEL, LocalRelay, type Relay, type RelayMessage } from './relay.ts';
