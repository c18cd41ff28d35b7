/** Weight of one crossing against the spans: more than all spans of 200 places together. */
export const CROSSING = 32_768;
