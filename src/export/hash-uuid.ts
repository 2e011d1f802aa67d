/**
 * Ids that follow from what they name: UUIDs of version 8 made from SHA-256 over a namespace and a
 * name, as RFC 9562 (2024), appendix B.2, shows. The same case always gets the same ids.
 */
import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, concatBytes, hexToBytes, utf8ToBytes } from '@noble/hashes/utils.js';

const UUID = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;
const HEX = /^([0-9a-f]{2})+$/;

/** A UUID or hex text as its bytes, any other text as UTF-8. */
function namespaceBytes(namespace: string): Uint8Array {
  if (UUID.test(namespace)) return hexToBytes(namespace.replaceAll('-', ''));
  return HEX.test(namespace) ? hexToBytes(namespace) : utf8ToBytes(namespace);
}

/**
 * `5c146b14-3c52-8afd-938a-375d0df1fbf6`.
 * @param namespace a UUID, a hash in hex, or any text.
 */
export function hashUuid(namespace: string, name: string): string {
  const bytes = sha256(concatBytes(namespaceBytes(namespace), utf8ToBytes(name))).slice(0, 16);
  bytes[6] = ((bytes[6] ?? 0) & 0x0f) | 0x80;
  bytes[8] = ((bytes[8] ?? 0) & 0x3f) | 0x80;
  const hex = bytesToHex(bytes);
  return [
    hex.slice(0, 8),
    hex.slice(8, 12),
    hex.slice(12, 16),
    hex.slice(16, 20),
    hex.slice(20),
  ].join('-');
}
