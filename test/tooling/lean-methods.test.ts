import { describe, expect, it } from 'vitest';
import { leanMethods } from '../../.ci/lean-methods.ts';

const code = `class Vector {
	constructor( x ) {
		this.x = x;
	}

	add( v ) {
		return this.scale( 1 ).shift( v );
	}

	scale( s ) {
		return this;
	}

	shift( v ) {
		return this;
	}

	skew( v ) {
		return this.twist( v );
	}

	twist( v ) {
		return this;
	}

}
class Far {
	go() {
		return new Vector( 1 ).skew( 2 );
	}

}
export { Vector, Far };
`;

describe('what the page takes of the renderer', () => {
  it('keeps what is called from outside and what that calls, and leaves out what only left-out methods or unused classes ask for', () => {
    const lean = leanMethods(code, 'new Vector( 1 )', ['a.add( b );']);
    expect([...lean.matchAll(/^\t(\w+)\(/gm)].map((m) => m[1])).toEqual(['constructor', 'add', 'scale', 'shift']);
  });

  it('keeps a method that is handed on without being called, and all of a name that anything is asked by', () => {
    const lean = leanMethods(code, 'Far', ['const f = far.go;', '// a.nothing( )']);
    expect([...lean.matchAll(/^\t(\w+)\(/gm)].map((m) => m[1])).toEqual(['constructor', 'skew', 'twist', 'go']);
  });
});
