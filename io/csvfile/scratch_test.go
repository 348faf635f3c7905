package csvfile
import ("testing";"strings";"time";"fmt";"os";"syscall")
func TestScratch(t *testing.T){
 var b strings.Builder
 b.WriteString(partHead)
 for i:=range 199000 { fmt.Fprintf(&b,"Bench,Leg%d,4,oak,16 1/2,2,1,,show\n",i)}
 at:=time.Now(); _,_,err:=ReadJob(folder(map[string]string{"parts.csv":b.String()})); t.Log(time.Since(at)); if err!=nil {t.Log(err.Error()[:200])}
 at=time.Now(); _,_,err=ReadJob(folder(map[string]string{"parts.csv":strings.ReplaceAll(b.String(),"show","shw")})); t.Log(time.Since(at)); if err!=nil {t.Log(err.Error()[:200])}
 at=time.Now(); _,_,err=ReadJob(folder(map[string]string{"parts.csv":partHead+strings.Repeat("a,\"b\n",190000)})); t.Log(time.Since(at)); if err!=nil {t.Log(err.Error()[:200])}
 at=time.Now(); _,_,err=ReadJob(folder(map[string]string{"rack.csv":"board,material,section,length,qty\nA,oak,2x6,9,200000\n","defects.csv":defectHead+strings.Repeat("B,1,2,k,,\n",190000)})); t.Log(time.Since(at)); if err!=nil {t.Log(err.Error()[:200])}
 d:=t.TempDir(); syscall.Mkfifo(d+"/parts.csv",0o644); os.WriteFile(d+"/rack.csv",nil,0o644); os.Mkdir(d+"/yard.csv",0o755); os.WriteFile(d+"/shop.toml",nil,0)
 _,_,err=ReadJob(os.DirFS(d)); t.Log(err)
 _,_,err=ReadJob(os.DirFS(d+"/none")); t.Log(err)
}
