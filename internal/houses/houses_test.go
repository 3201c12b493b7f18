package houses_test
import ("testing";"legwork";"legwork/internal/houses";"legwork/job")
func TestX(t *testing.T){ for _,n:=range houses.Names(){ b,_:=legwork.Houses.ReadFile("testdata/houses/"+n+".yaml"); if _,err:=job.Parse(n,b);err!=nil{t.Error(err)}}}
