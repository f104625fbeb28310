# Morley (1968) plate element written from its definition, one-way diagonals, load lumped a third to each corner.
import numpy as np, scipy.sparse as sp, scipy.sparse.linalg as sla
def run(n, nu, clamped):
    a=1.0; D=1.0; h=a/n
    P=np.array([[i*h,j*h] for j in range(n+1) for i in range(n+1)])
    v=lambda i,j:j*(n+1)+i
    T=[]
    for j in range(n):
        for i in range(n):
            T.append((v(i,j),v(i+1,j),v(i+1,j+1))); T.append((v(i,j),v(i+1,j+1),v(i,j+1)))
    E={}
    def edge(p,q):
        k=(min(p,q),max(p,q))
        if k not in E: E[k]=len(E)
        return E[k]
    for t in T:
        for k in range(3): edge(t[(k+1)%3],t[(k+2)%3])
    nv=len(P); N=nv+len(E)
    Dm=D*np.array([[1,nu,0],[nu,1,0],[0,0,(1-nu)/2]])
    I=[];J=[];V=[];f=np.zeros(N)
    cnt={}
    for t in T:
        X=P[list(t)]; A=.5*((X[1,0]-X[0,0])*(X[2,1]-X[0,1])-(X[2,0]-X[0,0])*(X[1,1]-X[0,1]))
        c=X.mean(0)
        # basis: monomials 1,x,y,x2,xy,y2 ; dofs: w at corners, dw/dn at mid-edges
        M=np.zeros((6,6)); dofs=[]
        for k in range(3):
            x,y=X[k]-c; M[k]=[1,x,y,x*x,x*y,y*y]; dofs.append(t[k])
        for k in range(3):
            p,q=t[(k+1)%3],t[(k+2)%3]
            g=E[(min(p,q),max(p,q))]; cnt[g]=cnt.get(g,0)+1
            d=P[max(p,q)]-P[min(p,q)]; nrm=np.array([d[1],-d[0]])/np.hypot(*d)
            x,y=(P[p]+P[q])/2-c
            M[3+k]=[0,nrm[0],nrm[1],2*x*nrm[0],x*nrm[1]+y*nrm[0],2*y*nrm[1]]; dofs.append(nv+g)
        C=np.linalg.inv(M)
        B=np.array([2*C[3],2*C[5],2*C[4]])  # wxx, wyy, 2wxy
        K=A*B.T@Dm@B
        for a_ in range(6):
            for b_ in range(6): I.append(dofs[a_]);J.append(dofs[b_]);V.append(K[a_,b_])
        for k in range(3): f[t[k]]+=A/3
    K=sp.csr_matrix((V,(I,J)),shape=(N,N))
    fix=[i for i in range(nv) if min(P[i])<1e-9 or max(P[i])>1-1e-9]
    if clamped: fix+= [nv+g for g in cnt if cnt[g]==1]
    free=np.setdiff1d(np.arange(N),fix)
    u=np.zeros(N); u[free]=sla.spsolve(K[free][:,free].tocsc(),f[free])
    return u[v(n//2,n//2)]
for nu in (.3,0):
  for cl,ex in ((True,.00126532),(False,.00406235)):
    print('nu',nu,'clamped' if cl else 'ss',[f"{n}: {100*(run(n,nu,cl)/ex-1):.2f}%" for n in (10,20,40)])
