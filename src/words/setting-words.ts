import { setting } from './en/setting.ts';
import { spoken } from './language.ts';

export const settingWords = spoken('setting', setting);
