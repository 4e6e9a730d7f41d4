/** Imported before all else: what is loaded at the start makes the young generation of the heap grow already. 109 instead of 119 MB at 10,000 lines. */
import { keepNurserySmall } from './nursery.ts';

keepNurserySmall();
