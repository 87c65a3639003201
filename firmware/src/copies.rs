//! Copies and fills memory, in forty bytes of code: what the compiler brings for it takes a kilobyte, to be fast with more
//! than this image ever copies.
#![expect(unsafe_code, reason = "what the compiler calls by these names is assembly")]

core::arch::global_asm!(
    "
    .syntax unified
    .thumb

    .section .text.memcpy, \"ax\", %progbits
    .p2align 1
    .global memcpy, __aeabi_memcpy, __aeabi_memcpy4, __aeabi_memcpy8
    .thumb_func
memcpy:
    .thumb_func
__aeabi_memcpy:
    .thumb_func
__aeabi_memcpy4:
    .thumb_func
__aeabi_memcpy8:
    movs r3, r0
    orrs r3, r1
    orrs r3, r2
    lsls r3, r3, #30
    beq 3f
1:  subs r2, #1     @ byte by byte, the last first
    bmi 4f
    ldrb r3, [r1, r2]
    strb r3, [r0, r2]
    b 1b
2:  ldr r3, [r1, r2]
    str r3, [r0, r2]
3:  subs r2, #4     @ whole words
    bpl 2b
4:  bx lr

    .section .text.memset, \"ax\", %progbits
    .p2align 1
    .global __aeabi_memclr, __aeabi_memclr4, __aeabi_memclr8
    .thumb_func
__aeabi_memclr:
    .thumb_func
__aeabi_memclr4:
    .thumb_func
__aeabi_memclr8:
    movs r2, #0
    .global __aeabi_memset, __aeabi_memset4, __aeabi_memset8
    .thumb_func
__aeabi_memset:
    .thumb_func
__aeabi_memset4:
    .thumb_func
__aeabi_memset8:
1:  subs r1, #1
    bmi 2f
    strb r2, [r0, r1]
    b 1b
2:  bx lr
    "
);
