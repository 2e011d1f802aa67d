/** The curing light, the restorations and the materials of a case as FHIR R4 Devices. */
import { materialForms } from '../words/material-words.ts';
import type { MaterialUse } from './export-source.ts';
import {
  base64Text,
  chart,
  type FhirObject,
  type FhirScene,
  metaOf,
  narrative,
  quantity,
} from './fhir-parts.ts';
import type { RecordFacts, UnitFact } from './record-types.ts';

/** As the text of R4 writes them (Device.udiCarrier.issuer). */
const ISSUERS = {
  GS1: 'http://hl7.org/fhir/NamingSystem/gs1-di',
  HIBC: 'http://hl7.org/fhir/NamingSystem/hibcc-dI',
} as const;

const property = (words: string, value: number | null, unit: string): FhirObject =>
  value === null ? {} : { type: { text: words }, valueQuantity: [quantity(value, unit)] };

const friendlyName = (name: string): FhirObject => ({ name, type: 'user-friendly-name' });

export function lightDevice(facts: RecordFacts, id: string): FhirObject {
  const { light } = facts;
  return {
    resourceType: 'Device',
    id,
    meta: metaOf(facts),
    text: narrative([`Curing light ${light.label}: ${light.irradianceMwPerCm2} mW/cm2`]),
    type: { text: 'Curing light' },
    deviceName: [friendlyName(light.label)],
    property: [
      property('Irradiance, as read', light.irradianceMwPerCm2, 'mW/cm2'),
      property('Irradiance, own baseline', light.baselineMwPerCm2, 'mW/cm2'),
      property('Difference from own baseline', light.driftPercent, '%'),
      property('Diameter of the tip', light.tipDiameterMm, 'mm'),
    ],
    note: light.readOn === null ? null : [{ text: `Read on ${light.readOn}` }],
  };
}

export function restorationDevice(scene: FhirScene, unit: UnitFact, id: string): FhirObject {
  const teeth = unit.teeth.map((t) => t.fdi).join(', ');
  const made = `${unit.restoration}, ${materialForms(unit.material).inLine}`;
  return {
    resourceType: 'Device',
    id,
    meta: metaOf(scene.facts),
    text: narrative([`${made}, for tooth ${teeth}`]),
    type: { text: unit.restoration },
    deviceName: [friendlyName(`Unit ${unit.id}: ${made}`)],
    property: [
      { type: { text: 'Material class' }, valueCode: [{ text: unit.material }] },
      property('Thickness of the ceramic', unit.thicknessMm, 'mm'),
      unit.shade === null ? {} : { type: { text: 'Shade' }, valueCode: [{ text: unit.shade }] },
    ],
    patient: chart(scene),
  };
}

/** The carrier of the device identifier, when a label was read. */
function udiCarrier({ issuer, deviceIdentifier, carrier, entry }: MaterialUse): FhirObject {
  if (deviceIdentifier === null && carrier === null) return {};
  return {
    deviceIdentifier,
    issuer: issuer === null ? null : ISSUERS[issuer],
    carrierAIDC: carrier?.scanned ? base64Text(carrier.scanned) : null,
    carrierHRF: carrier?.humanReadable,
    entryType: entry,
  };
}

export function materialDevice(facts: RecordFacts, material: MaterialUse, id: string): FhirObject {
  const { label, materialClass, lot, expiresOn } = material;
  const lotWords = lot === null ? 'lot not recorded' : `lot ${lot}`;
  return {
    resourceType: 'Device',
    id,
    meta: metaOf(facts),
    text: narrative([`${label} (${materialClass}), ${lotWords}`]),
    udiCarrier: [udiCarrier(material)],
    lotNumber: lot,
    expirationDate: expiresOn,
    manufactureDate: material.producedOn,
    serialNumber: material.serial,
    deviceName: [friendlyName(label)],
    type: { text: materialClass },
    note: material.remarks.map((text) => ({ text })),
  };
}
