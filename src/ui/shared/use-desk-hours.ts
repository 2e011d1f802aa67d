/** How long the lead's desk stays open under somebody's hands. */
import { useEffect } from 'react';
import type { LeadDesk } from '../../runtime/lead/lead.ts';

/** The idle time begins anew with every touch and key; leaving these pages closes the desk. */
export function useDeskHours(desk: LeadDesk): void {
  useEffect(() => {
    const touch = () => desk.touch();
    const leave = () => void desk.close('left');
    window.addEventListener('pointerdown', touch);
    window.addEventListener('keydown', touch);
    window.addEventListener('pagehide', leave);
    return () => {
      window.removeEventListener('pointerdown', touch);
      window.removeEventListener('keydown', touch);
      window.removeEventListener('pagehide', leave);
      leave();
    };
  }, [desk]);
}
