import './styles/tokens.css';
import { registerElements } from './elements.ts';

registerElements();
