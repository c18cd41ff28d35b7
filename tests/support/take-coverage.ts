/** Leaves what this worker has run behind each test file, since workers are ended without asking. Only for `npm run coverage`. */
import { takeCoverage } from 'node:v8';
import { afterAll } from 'vitest';

afterAll(() => takeCoverage());
