import { brokenChain } from './en/broken-chain.ts';
import { spoken } from './language.ts';

export const brokenChainWords = spoken('brokenChain', brokenChain);
