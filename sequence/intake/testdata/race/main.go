//go:build unix

// Race brings in the large JPEGs of the photographs folder, repeated to a number
// of files, and lets vipsthumbnail (Debian: libvips-tools) make pictures of the
// same three sizes, in sRGB, with as many processes. It prints both times, their
// ratios, and the peak memory of our processes together.
//
//	go build -o /tmp/race ./sequence/intake/testdata/race && /tmp/race ../shared/photos
package main

import (
	"context"
	"flag"
	"fmt"
	"log"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"time"

	"pairwall/sequence/intake"
)

// sizeOfLarge is from how many bytes on a JPEG counts as large.
const sizeOfLarge = 2 << 20

func main() {
	if len(os.Args) == 2 && os.Args[1] == "worker" {
		if err := intake.Serve(os.Stdin, os.Stdout, intake.DefaultLimits); err != nil {
			log.Fatal(err)
		}
		return
	}
	count := flag.Int("n", 100, "how many files")
	workers := flag.Int("p", 2, "how many processes")
	nice := flag.Int("nice", 5, "by how much vipsthumbnail gives way; our workers give way by 5")
	flag.Parse()
	folder, err := os.MkdirTemp("", "race")
	if err != nil {
		log.Fatal(err)
	}
	defer os.RemoveAll(folder)
	files := lay(flag.Arg(0), folder, *count)
	before := processors()
	ours, peak := read(files, filepath.Join(folder, "cards"), *workers)
	between := processors()
	theirs := thumbnails(files, filepath.Join(folder, "thumbnails"), *workers, *nice)
	after := processors()
	fmt.Printf("files %d, processes %d; intake gives way by 5, vipsthumbnail by %d\n", len(files), *workers, *nice)
	fmt.Printf("intake        %6.1f s, %6.1f s of processor time, peak %d MB of all workers together\n",
		ours.Seconds(), between-before, peak>>20)
	fmt.Printf("vipsthumbnail %6.1f s, %6.1f s of processor time\n", theirs.Seconds(), after-between)
	fmt.Printf("ratio         %6.2f, %6.2f\n", ours.Seconds()/theirs.Seconds(), (between-before)/(after-between))
}

// processors is how many seconds of processor time the processes that are over
// have taken. Unlike the time on the wall it means something on a busy machine.
func processors() float64 {
	var used syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_CHILDREN, &used); err != nil {
		log.Fatal(err)
	}
	return float64(used.Utime.Nano()+used.Stime.Nano()) / 1e9
}

// lay links the large JPEGs below photos into a folder until there are count.
func lay(photos, folder string, count int) []string {
	var large []string
	err := filepath.WalkDir(photos, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".jpg") {
			return err
		}
		if info, err := d.Info(); err == nil && info.Size() >= sizeOfLarge {
			absolute, _ := filepath.Abs(path)
			large = append(large, absolute)
		}
		return nil
	})
	if err != nil || len(large) == 0 {
		log.Fatalf("no large JPEGs below %q: %v", photos, err)
	}
	var files []string
	for i := range count {
		path := filepath.Join(folder, fmt.Sprintf("%03d.jpg", i))
		if err := os.Symlink(large[i%len(large)], path); err != nil {
			log.Fatal(err)
		}
		files = append(files, path)
	}
	return files
}

// read brings the files in through a pool.
func read(files []string, cards string, workers int) (time.Duration, int64) {
	self, err := os.Executable()
	if err != nil {
		log.Fatal(err)
	}
	pool := intake.NewPool(workers, []string{self, "worker"}, intake.DefaultLimits)
	defer pool.Close()
	start := time.Now()
	share(files, workers, func(list []string) {
		for _, file := range list {
			if _, err := pool.Read(context.Background(), file, cards); err != nil {
				log.Fatal(file, err)
			}
		}
	})
	return time.Since(start), pool.PeakMemory() * int64(workers)
}

// thumbnails makes pictures of the card sizes, one process for each part of the
// files and size, so that as little time as possible goes into starting.
func thumbnails(files []string, folder string, workers, nice int) time.Duration {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		log.Fatal(err)
	}
	start := time.Now()
	share(files, workers, func(list []string) {
		for _, size := range intake.CardSizes {
			arguments := append([]string{"-n", strconv.Itoa(nice), "vipsthumbnail", "--vips-concurrency=1", "--eprofile=srgb", "--size", fmt.Sprintf("%dx%d>", size, size),
				"-o", filepath.Join(folder, fmt.Sprintf("%%s_%d.jpg[Q=86,strip]", size))}, list...)
			if out, err := exec.Command("nice", arguments...).CombinedOutput(); err != nil {
				log.Fatalf("vipsthumbnail: %v\n%s", err, out)
			}
		}
	})
	return time.Since(start)
}

// share gives each of several at work every so manieth file.
func share(files []string, workers int, work func(list []string)) {
	var done sync.WaitGroup
	for w := range workers {
		var list []string
		for i := w; i < len(files); i += workers {
			list = append(list, files[i])
		}
		done.Go(func() { work(list) })
	}
	done.Wait()
}
