/** Reads the case and the protocol of the first look, which ship with the app. */
import caseUrl from '../../../shared/first-look/case.json?packed';
import protocolUrl from '../../../shared/first-look/protocol.json?packed';
import type { CaseFile } from '../../protocol/case-types.ts';
import { parseCase } from '../../protocol/parse-case.ts';
import { parseProtocol } from '../../protocol/parse-protocol.ts';
import type { ProtocolEntry } from '../app-state.ts';
import { protocolHash } from '../lead/lead-documents.ts';
import { readShipped } from './read-shipped.ts';

/** Null when a shipped file cannot be read, for example before the app was kept on the device. */
export async function readFirstLook(): Promise<{
  readonly spec: CaseFile;
  readonly entry: ProtocolEntry;
} | null> {
  const read = await Promise.all([caseUrl, protocolUrl].map(readShipped)).catch(() => null);
  if (read === null) return null;
  const [spec, protocol] = [parseCase(read[0]), parseProtocol(read[1])];
  if (!spec.ok || !protocol.ok) return null;
  const entry: ProtocolEntry = {
    protocol: protocol.value,
    hash: protocolHash(protocol.value),
    approval: null,
    origin: 'template',
  };
  return { spec: spec.value, entry };
}
