import { brokenChainWords } from '../../words/broken-chain-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { useApp } from './session-context.ts';

/** How many characters of an id are shown where nothing else names a case. */
const ID_SHOWN = 12;

/** Cases that are not as a tablet signed them: of one, or of all. */
export function BrokenChains({ caseId }: { readonly caseId?: string }) {
  const { brokenChains, tablets } = useApp((s) => s.sharing);
  const cases = useApp((s) => s.cases);
  const told = brokenChains.filter((each) => caseId === undefined || each.caseId === caseId);
  return told.map(({ kind, device, named, here, caseId: id }) => {
    const of = cases.find((each) => each.caseId === id);
    const title =
      of === undefined
        ? brokenChainWords.unknownCase(id.slice(0, ID_SHOWN))
        : [of.title, of.chartRef].filter((part) => part !== '').join(', ');
    const tablet =
      tablets.find((each) => each.device === device)?.name ?? brokenChainWords.unknownTablet;
    return (
      <Banner
        key={`${id} ${kind} ${device}`}
        tone="broken"
        words={brokenChainWords.title({ title })}
        advice={`${brokenChainWords.kinds[kind]({ tablet, named, here })} ${brokenChainWords.todo}`}
      />
    );
  });
}
