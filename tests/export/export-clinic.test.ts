import { describe, expect, it } from 'vitest';
import {
  absoluteUri,
  clinicOf,
  type FilingSettings,
  NO_CLINIC,
  procedureCodes,
} from '../../src/export/export-clinic.ts';

const NOTHING: FilingSettings = {
  chartSystem: '',
  procedureSystem: '',
  procedureCodes: '',
  byteOrderMark: false,
  openingHours: [],
};

describe('the system of a chart reference', () => {
  // HL7 FHIR R4 (4.0.1), datatypes: a URI is absolute; oid matches urn:oid:[0-2](\\.(0|[1-9][0-9]*))+ and
  // uuid is lower case. RFC 3986, section 3.1: a scheme begins with a letter.
  it.each([
    'https://clinic.example/charts',
    'http://localhost/charts',
    'urn:oid:2.16.840.1.113883.19.5',
    'urn:uuid:c757873d-ec9a-4326-a141-556f43239520',
    'urn:example:charts',
  ])('may be %s', (uri) => {
    expect(absoluteUri(` ${uri} `)).toBe(uri);
  });

  it.each([
    '',
    'charts',
    'clinic.example/charts',
    '2.16.840.1.113883.19.5',
    'urn:oid:2.16.0840',
    'urn:oid:',
    'urn:uuid:C757873D-EC9A-4326-A141-556F43239520',
    'https://',
    'https://clinic example',
    'https://clinic.example/<charts>',
  ])('may not be %j', (text) => {
    expect(absoluteUri(text)).toBeNull();
  });
});

describe('the codes of procedures', () => {
  it('are one line each, by the kind of restoration', () => {
    expect(procedureCodes('Veneer = D2962\n\n inlay, onlay=D 2620\n* = D2999')).toEqual(
      new Map([
        ['veneer', 'D2962'],
        ['inlay, onlay', 'D 2620'],
        ['*', 'D2999'],
      ]),
    );
    expect(procedureCodes('')).toEqual(new Map());
  });

  it.each([
    ['veneer', 1],
    ['veneer = ', 1],
    ['veneer = 1\n = 2', 2],
    ['veneer = a  b', 1],
    ['veneer = 1\n\nVENEER = 2', 3],
  ])('of %j cannot be read in line %i', (text, line) => {
    expect(procedureCodes(text)).toBe(line);
  });
});

describe('what the settings say of files', () => {
  it('is nothing while nothing was set, or where it cannot be read', () => {
    expect(clinicOf(NOTHING)).toEqual(NO_CLINIC);
    expect(
      clinicOf({
        ...NOTHING,
        chartSystem: 'charts',
        procedureSystem: 'https://codes.example',
        procedureCodes: 'veneer',
        openingHours: ['all day'],
      }),
    ).toEqual(NO_CLINIC);
    expect(clinicOf({ ...NOTHING, procedureCodes: 'veneer = 1' }).procedure).toBeNull();
  });

  it('is what was set', () => {
    const said = clinicOf({
      chartSystem: 'urn:oid:2.999',
      procedureSystem: 'https://codes.example',
      procedureCodes: 'veneer = 1',
      byteOrderMark: true,
      openingHours: ['', '', '', '', '', '', '9-12'],
    });
    expect(said.chartSystem).toBe('urn:oid:2.999');
    expect(said.procedure?.codes.get('veneer')).toBe('1');
    expect(said.byteOrderMark).toBe(true);
    expect(said.hours?.[6]).toEqual([{ fromMinutes: 540, toMinutes: 720 }]);
  });
});
