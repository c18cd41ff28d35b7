/** Told the share done, rising from 0 to 1, now and then. */
export type Tell = (share: number) => void;
