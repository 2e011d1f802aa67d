import { coach, notice } from './en/tour.ts';
import { spoken } from './language.ts';

export const noticeWords = spoken('notice', notice);
export const coachWords = spoken('coach', coach);
