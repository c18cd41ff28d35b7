/** Threads of our own naming, light and dark, of many hues. */
export const THREADS = [
  { name: 'Oat', hex: '#efe3cc' },
  { name: 'Ember', hex: '#a63a1d' },
  { name: 'Fjord', hex: '#1f4f6e' },
  { name: 'Broom', hex: '#e8b93c' },
  { name: 'Moss', hex: '#5f7a35' },
  { name: 'Ink', hex: '#22242e' },
  { name: 'Shell', hex: '#f0b8a8' },
  { name: 'Heather', hex: '#8a6aa8' },
  { name: 'Lagoon', hex: '#2a9a96' },
  { name: 'Rust', hex: '#cf6a2a' },
  { name: 'Ice', hex: '#bfdde6' },
  { name: 'Plum', hex: '#5b2450' },
] as const;
