/** Properties without a seed of their own draw the same cases each day; `SEED` draws others. */
import fc from 'fast-check';
import { firstSeed } from './depth.ts';

fc.configureGlobal({ seed: firstSeed });
