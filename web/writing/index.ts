export type { WrittenField } from './typed-field.ts';
