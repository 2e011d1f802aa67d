/** Parts of the chair that come with its second picture, so that the first load stays small. */
import { lazy } from 'react';

export const ChairAtHand = lazy(async () => ({
  default: (await import('./ChairAtHand.tsx')).ChairAtHand,
}));
export const ChairInstruction = lazy(async () => ({
  default: (await import('./ChairInstruction.tsx')).ChairInstruction,
}));
export const ChairPass = lazy(async () => ({
  default: (await import('./ChairPass.tsx')).ChairPass,
}));
export const ChairCautions = lazy(async () => ({
  default: (await import('./ChairCautions.tsx')).ChairCautions,
}));
export const ChairAtOnce = lazy(async () => ({
  default: (await import('./ChairAtOnce.tsx')).ChairAtOnce,
}));
export const AgainstPlan = lazy(async () => ({
  default: (await import('./AgainstPlan.tsx')).AgainstPlan,
}));
export const ChairBeside = lazy(async () => ({
  default: (await import('./ChairBeside.tsx')).ChairBeside,
}));
export const MaterialsNotice = lazy(async () => ({
  default: (await import('./MaterialsNotice.tsx')).MaterialsNotice,
}));
export const RefusedNotice = lazy(async () => ({
  default: (await import('./RefusedNotice.tsx')).RefusedNotice,
}));
export const Coach = lazy(async () => ({ default: (await import('./Coach.tsx')).Coach }));
export const SizeNotice = lazy(async () => ({
  default: (await import('../shared/SizeNotice.tsx')).SizeNotice,
}));
export const LightReason = lazy(async () => ({
  default: (await import('./LightReason.tsx')).LightReason,
}));
export const TipPlace = lazy(async () => ({
  default: (await import('./TipPlace.tsx')).TipPlace,
}));
export const ChairSheets = lazy(async () => ({
  default: (await import('./sheets/ChairSheets.tsx')).ChairSheets,
}));
export const HoldNotice = lazy(async () => ({
  default: (await import('./HoldNotice.tsx')).HoldNotice,
}));
export const ClosedHold = lazy(async () => ({
  default: (await import('./HoldNotice.tsx')).ClosedHold,
}));
export const ChairDamage = lazy(async () => ({
  default: (await import('./ChairDamage.tsx')).ChairDamage,
}));
export const PenBar = lazy(async () => ({ default: (await import('./PenBar.tsx')).PenBar }));
export const PenEnds = lazy(async () => ({ default: (await import('./PenEnds.tsx')).PenEnds }));
export const ChairGap = lazy(async () => ({
  default: (await import('./ChairGap.tsx')).ChairGap,
}));
