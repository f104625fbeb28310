/** One reading per row, as its source gives it or as others quote it; shown beside the presets, never used in a calculation. */
export interface EvidenceRow {
  readonly material: string;
  readonly source: string;
  /** g/m2 unless the text says otherwise */ readonly areal?: string;
  readonly thicknessMm?: string;
  readonly bendingUNm?: string;
  readonly bendingLengthMm?: string;
  readonly shear?: string;
  readonly inPlane?: string;
  readonly hysteresis?: string;
}

/** Where every figure of the built-in materials comes from. */
export const EVIDENCE_ROWS: readonly EvidenceRow[] = [
  { material: "11 oz black denim 99/1 cotton/elastane", areal: "324", bendingUNm: "16.0 / 18.3 (bias) / 24.2 (file 64.2 / 73.4 / 97.0)", bendingLengthMm: "17.2 / 17.9 / 19.7", shear: "c33 53 (first load step)", inPlane: "205 / 1014 (first load step, crimp region)", source: "Wang, O'Brien, Ramamoorthi 2011, ACM TOG 30(4) 71 (material files; divided by 4, see note)" },
  { material: "trouser cloth 65/35 cotton/polyester", areal: "220", bendingUNm: "31 / 27 / 31 (file 125 / 108 / 125)", bendingLengthMm: "24.4 / 23.2 / 24.4", shear: "105", inPlane: "2017 / 2035", source: "Wang, O'Brien, Ramamoorthi 2011, ACM TOG 30(4) 71 (material files; divided by 4, see note)" },
  { material: "polyester tablecloth", areal: "128", bendingUNm: "12.9 / 10.2 / 7.8 (file 51.7 / 40.7 / 31.3)", bendingLengthMm: "21.8 / 20.1 / 18.4", shear: "19", inPlane: "2002 / 2027", source: "Wang, O'Brien, Ramamoorthi 2011, ACM TOG 30(4) 71 (material files; divided by 4, see note)" },
  { material: "cotton (plain)", areal: "103.6", thicknessMm: "0.18", bendingUNm: "continuum A t2/12: 7.6 / 12.2", bendingLengthMm: "19.6-22.9 equiv.", shear: "194", inPlane: "2800 / 4501", source: "Clyde, Teran, Tamstorf 2017 (second-hand, attribution inferred)" },
  { material: "canvas", areal: "294", thicknessMm: "0.53", bendingUNm: "continuum A t2/12: 67 / 246", bendingLengthMm: "28-44 equiv.", shear: "1065", inPlane: "2844 / 10496", source: "Clyde, Teran, Tamstorf 2017 (second-hand, attribution inferred)" },
  { material: "denim", areal: "400", thicknessMm: "0.66", bendingUNm: "continuum A t2/12: 115 / 216", bendingLengthMm: "31-38 equiv.", shear: "1616", inPlane: "3163 / 5959", source: "Clyde, Teran, Tamstorf 2017 (second-hand, attribution inferred)" },
  { material: "wool coating", areal: "480.6", thicknessMm: "1.28", bendingUNm: "continuum bound 400 / 388", bendingLengthMm: "(bound only)", shear: "475", inPlane: "2931 / 2840", source: "Clyde, Teran, Tamstorf 2017 (second-hand, attribution inferred)" },
  { material: "cotton woven", areal: "150.3", thicknessMm: "0.318", inPlane: "261 (= 0.821 MPa x 0.318 mm, low load)", source: "Penava, Simic Penava, Knezic 2014, Fibres & Textiles in E. Europe (second-hand)" },
  { material: "denims A-F (pure-bending tester)", bendingUNm: "16.9 14.1 22.3 14.4 20.3 14.5", shear: "122 86 191 91 86 84", inPlane: "EMT 4.7-5.7 %, LT 0.66-0.78", hysteresis: "2HB 1.36 1.39 1.03 1.38 2.10 1.56 mN; k0 = 40 49 23 48 52 54 /m", source: "Kumari, Khurana 2016, Regenerated Cellulose-Based Denim Fabric for Tropical Regions, Journal of Textiles 2016, 4614168, table 5" },
  { material: "cotton broadcloth (pure-bending tester)", bendingUNm: "11.6", hysteresis: "2HB 1.22 mN; k0 = 53 /m", source: "Matsudaira et al. 2015, J. Textile Eng. 61(6) 69-73 (second-hand)" },
  { material: "wool tropical (pure-bending tester)", bendingUNm: "6.57", hysteresis: "2HB 0.32 mN; k0 = 25 /m", source: "Matsudaira et al. 2015, J. Textile Eng. 61(6) 69-73 (second-hand)" },
  { material: "polyester faille (pure-bending tester)", bendingUNm: "1.86", hysteresis: "2HB 0.069 mN; k0 = 18 /m", source: "Matsudaira et al. 2015, J. Textile Eng. 61(6) 69-73 (second-hand)" },
  { material: "sheep garment leather", thicknessMm: "0.64-0.96", bendingUNm: "92-220 (unit inferred)", source: "Memon, Chaklie, Yesuf, Zhu 2021, Study on Effect of Leather Rigidity and Thickness on Drapability of Sheep Garment Leather, Materials 14(16) 4553 (abstract; unit inferred)" },
  { material: "bovine shoe upper leather", inPlane: "39.5 MPa at 30-80 % -> secant 49-132 MPa", source: "Meyer, Dietrich, Schulz, Mondschein 2021, Comparison of the Technical Performance of Leather, Artificial Leather, and Trendy Alternatives, Coatings 11(2) 226 (ISO 3376; modulus inferred)" },
  { material: "100 % leather-fibre panel", inPlane: "MOE 539-1099 MPa at 722-956 kg/m3", source: "Analysis of Selected Properties of Fibreboard Panels Manufactured from Wood and Leather Using the Near Infrared Spectroscopy, Int. J. Spectroscopy 2015, 691796, table 1 (authors not noted)" },
  { material: "PP", areal: "905 kg/m3", inPlane: "E_flex 1.17-1.72 GPa", source: "Corneliussen 2002, Properties: Polypropylene (PP), values of Modern Plastics Encyclopedia 99: 170 000 to 250 000 psi" },
  { material: "LDPE", areal: "912-925 kg/m3", inPlane: "E_flex 69-207 MPa", source: "handbook values quoted by Cardarelli (second-hand, title not noted)" },
  { material: "PVC-coated polyester membrane", areal: "1050", thicknessMm: "0.82", bendingUNm: "continuum bound 70 000 / 59 000 (1520/1290 MPa)", bendingLengthMm: "(bound only)", inPlane: "1.25e6 / 1.06e6", source: "Adv. Mater. Sci. Eng. 2015, 387153, table 3 (author and title not noted)" },
];
