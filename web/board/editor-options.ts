import type { EditorNews } from './editor-news.ts';

export type ToolId = 'tie' | 'line' | 'fill' | 'select' | 'trace' | 'pick' | 'pan';

export interface EditorOptions {
  readonly canEdit: boolean;
  readonly onChange: () => void;
  readonly onNews: (news: EditorNews) => void;
}
