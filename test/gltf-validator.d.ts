/** The Khronos validator brings no types; what the tests use of it. */
declare module 'gltf-validator' {
  export function validateBytes(bytes: Uint8Array): Promise<{
    readonly issues: {
      readonly numErrors: number;
      readonly numWarnings: number;
      readonly messages: readonly { readonly code: string; readonly message: string; readonly severity: number }[];
    };
  }>;
}
